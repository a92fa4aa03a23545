// The desk's pages work without this file; it adds moving the ball on the drawing and redrawing at once.
import { wireClock } from "./clock.js";
import { wireMap } from "./map.js";
import { wirePlan } from "./plan.js";
import { wireForms } from "./sending.js";

wirePlan(document.getElementById("plan"));
wireMap(document.getElementById("map"));
wireClock(document.getElementById("clock"));
wireForms();

// A stroke (/) goes to the field of words, from anywhere but a field.
document.addEventListener("keydown", (event) => {
  if (event.key !== "/" || event.ctrlKey || event.metaKey || event.altKey || event.target.closest("input, select, textarea")) return;
  const words = document.querySelector('input[name="words"]');
  if (!words) return;
  event.preventDefault();
  words.focus();
});
