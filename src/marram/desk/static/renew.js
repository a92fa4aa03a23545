// The page at rest: fetched whole, its ruling laid in the place of the one shown; what was typed and not yet sent is kept.

let asking = null;

// Lay the ruling of an address in place; gives whether that was done. What is no longer wanted when it comes is let go.
export async function renew(address, isWanted = () => true) {
  asking?.abort();
  asking = new AbortController();
  let page;
  try {
    const answer = await fetch(address, { signal: asking.signal });
    page = new DOMParser().parseFromString(await answer.text(), "text/html");
  } catch (problem) {
    if (problem.name !== "AbortError") sayStopped();
    return false;
  }
  if (!isWanted()) return false;
  const fresh = page.getElementById("ruling"), shown = document.getElementById("ruling");
  if (!fresh || !shown) {
    location.assign(address);
    return false;
  }
  const focused = document.activeElement?.id, kept = typed(shown);
  fresh.querySelector("#said")?.removeAttribute("aria-live");
  shown.replaceWith(document.adoptNode(fresh));
  document.title = page.title;
  history.replaceState(null, "", address);
  typeAgain(fresh, kept);
  if (focused) document.getElementById(focused)?.focus({ preventScroll: true });
  say(fresh.querySelector("#said")?.textContent ?? fresh.querySelector("[role=alert]")?.textContent ?? "");
  return true;
}

// Fields with what was typed into them, open parts, and the handle that is chosen.
function typed(shown) {
  const fields = [...shown.querySelectorAll("input:not([type=hidden],[type=radio],[data-place]),textarea")];
  return {
    fields: fields.filter((field) => field.value !== field.defaultValue).map((field) => [formOf(field), field.name, field.value]),
    open: [...shown.querySelectorAll("details[open]>summary")].map((summary) => summary.textContent),
    handle: shown.querySelector("#handles input:checked")?.value,
  };
}

function typeAgain(fresh, kept) {
  for (const [form, name, value] of kept.fields) {
    const field = [...fresh.querySelectorAll(`[name="${CSS.escape(name)}"]`)].find((each) => formOf(each) === form && each.type !== "hidden");
    if (field) field.value = value;
  }
  for (const summary of fresh.querySelectorAll("summary")) {
    if (kept.open.includes(summary.textContent)) summary.parentElement.open = true;
  }
  const pick = [...fresh.querySelectorAll("#handles input")].find((each) => each.value === kept.handle);
  if (pick) pick.checked = true;
}

function formOf(field) {
  return field.form ? field.form.className : "";
}

// One live region stays on the page, so that what a ruling comes to is heard when its words are laid in.
function say(words) {
  let heard = document.getElementById("heard");
  if (!heard) {
    heard = document.createElement("p");
    heard.id = "heard";
    heard.className = "sr";
    heard.setAttribute("aria-live", "polite");
    document.body.append(heard);
  }
  heard.textContent = words;
}

// Said at the map, or beside what could not be sent.
export function sayStopped(beside = document.getElementById("map")) {
  const said = document.getElementById("map-said") ?? document.createElement("p");
  said.id = "map-said";
  said.className = "stopped";
  said.setAttribute("role", "alert");
  said.textContent = document.documentElement.dataset.stopped;
  (beside ?? document.querySelector("main")?.lastElementChild)?.after(said);
}
