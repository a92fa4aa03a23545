// A change works without this file; it looks at once what a new value does, keeps what is typed in the address, and fetches the drawing.
import { sayStopped } from "./renew.js";

const REST_MS = 450;
const form = document.getElementById("t-form");
let looking = null, drawing = null, resting = 0;

function stated() {
  const fields = new URLSearchParams();
  for (const [name, value] of new FormData(form)) if (typeof value === "string") fields.append(name, value);
  return fields;
}

// The same page for what stands in the form now: only the parts that tell about it are laid in place, the fields stay untouched.
async function look() {
  looking?.abort();
  looking = new AbortController();
  const fields = stated(), address = `${form.dataset.look}?${fields}`;
  try {
    const answer = await fetch(address, { signal: looking.signal });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    history.replaceState(null, "", address);
    lay(page, "part");
    lay(page, "slots");
    lay(page, "said");
    lay(page, "touch");
    lay(page, "ground");
    draw(`${form.dataset.ground}?${fields}`);
  } catch (problem) {
    if (problem.name !== "AbortError") sayStopped();
  }
}

function lay(page, name) {
  const fresh = page.querySelector(`[data-live="${name}"]`), shown = document.querySelector(`[data-live="${name}"]`);
  if (fresh && shown) shown.replaceWith(document.adoptNode(fresh));
}

// The ground is drawn by a process of its own and comes when it is done.
async function draw(address) {
  drawing?.abort();
  const said = document.getElementById("t-ground-said");
  if (!said) return;
  drawing = new AbortController();
  said.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(address, { signal: drawing.signal });
    lay(new DOMParser().parseFromString(await answer.text(), "text/html"), "ground");
    document.querySelector("[data-place]")?.addEventListener("click", another);
  } catch (problem) {
    if (problem.name !== "AbortError") said.removeAttribute("aria-busy");
  }
}

function another(event) {
  event.preventDefault();
  const said = document.createElement("p");
  said.id = "t-ground-said";
  event.currentTarget.replaceWith(said);
  draw(event.target.href);
}

// A gap of the sentence opens in place: its fields are there, and hidden.
function open(event) {
  const button = event.target.closest(".t-slot button");
  if (!button) return;
  event.preventDefault();
  for (const each of form.querySelectorAll("[data-gap]")) each.hidden = each.dataset.gap !== button.value;
  for (const each of form.querySelectorAll(".t-slot button")) {
    each.setAttribute("aria-expanded", String(each === button));
    each.parentElement.classList.toggle("on", each === button);
  }
  form.querySelector("[data-gap]:not([hidden])")?.querySelector("input,select,textarea")?.focus();
}

if (form) {
  form.addEventListener("click", open);
  form.addEventListener("input", () => {
    clearTimeout(resting);
    resting = setTimeout(look, REST_MS);
  });
  if (document.getElementById("t-ground-said")) draw(`${form.dataset.ground}?${stated()}`);
}
