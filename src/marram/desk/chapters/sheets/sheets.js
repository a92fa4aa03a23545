// A print is made while its page says how far it is; without this script the button makes it, and the browser waits.
const form = document.querySelector("#make"), place = document.querySelector("#how-far");

const tell = (far) => {
  const words = place.querySelector("p"), bar = place.querySelector("progress") ?? document.createElement("progress");
  words.textContent = `${place.dataset.making}: ${far.doing || "…"}`;
  bar.setAttribute("aria-label", place.dataset.making);
  if (far.whole) { bar.max = far.whole; bar.value = far.done; } else bar.removeAttribute("value");
  if (!bar.isConnected) words.after(bar);
};

const make = async () => {
  tell({ doing: "", whole: 0 });
  form.querySelector("button")?.setAttribute("disabled", "");
  const looking = setInterval(async () => {
    const answer = await fetch(place.dataset.far).catch(() => null);
    if (answer?.ok) tell(await answer.json());
  }, 500);
  try {
    const answer = await fetch(form.action, { method: "POST", body: new URLSearchParams(new FormData(form)) });
    clearInterval(looking);
    if (answer.redirected) { location.replace(answer.url); return; }
    const page = new DOMParser().parseFromString(await answer.text(), "text/html"), told = page.querySelector(".err");
    if (told) place.replaceChildren(document.importNode(told, true)); else place.querySelector("p").textContent = document.documentElement.dataset.stopped;
  } catch {
    clearInterval(looking);
    place.querySelector("p").textContent = document.documentElement.dataset.stopped;
    place.querySelector("progress")?.remove();
  }
  form.querySelector("button")?.removeAttribute("disabled");
};

if (form && place) {
  form.addEventListener("submit", (event) => { event.preventDefault(); make(); });
  if (form.dataset.makes && form.checkValidity()) make();
}
