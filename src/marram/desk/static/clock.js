// The search clock: it runs from when it was started, and an event is put down at the time that it shows.

export function wireClock(clock) {
  if (!clock) return;
  const words = clock.dataset;
  const begun = Number(new URLSearchParams(location.search).get("begun"));
  const acts = clock.querySelector(".clock-acts");
  if (words.state === "not-begun") {
    acts.append(button(words.start, () => go({ events: "start@0:00", begun: Math.floor(Date.now() / 1000) })));
    return;
  }
  if (!begun) return;
  const elapsed = () => Math.max(0, Math.floor(Date.now() / 1000 - begun));
  for (const entry of words.events.split(";")) {
    const [event, said] = entry.split("|");
    acts.append(button(said, () => go({ event, at: told(elapsed()) })));
  }
  if (words.state !== "searching") return;
  const figures = clock.querySelector(".clock-f"), limit = Number(words.limit);
  const tick = () => {
    const left = limit - Number(words.searched) - (elapsed() - Number(words.last));
    figures.firstChild.textContent = `${told(Math.max(0, left))} `;
    clock.classList.toggle("over", left <= 0);
    if (left <= 0) go({ event: "now", at: told(elapsed()) });
  };
  tick();
  setInterval(tick, 500);
}

function told(seconds) {
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

function button(said, press) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "btn go";
  made.textContent = said;
  made.addEventListener("click", press);
  return made;
}

function go(stated) {
  const url = new URL(location.href);
  for (const [name, value] of Object.entries(stated)) url.searchParams.set(name, value);
  location.assign(url);
}
