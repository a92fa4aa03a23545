// Forms: a form is sent when the desk answers; where it was stopped the page says so, and what was typed stays in its fields.
import { sayStopped } from "./renew.js";

const sure = new WeakSet();

export function wireForms() {
  document.addEventListener("submit", async (event) => {
    const form = event.target, pressed = event.submitter;
    if (event.defaultPrevented || sure.has(form)) return;
    event.preventDefault();
    if (!(await isReached())) return sayStopped(form);
    sure.add(form);
    form.requestSubmit(pressed);
    sure.delete(form);
  });
}

async function isReached() {
  try {
    return (await fetch("/static/mark.svg", { cache: "no-store" })).ok;
  } catch {
    return false;
  }
}
