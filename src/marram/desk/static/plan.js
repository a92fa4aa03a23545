// The plan of the course: a touch puts the ball there and opens its page.
import { BALL, groundOf, withPlace } from "./ground.js";

const STEP_M = 0.1, LONG_STEP_M = 1;
const SVG = "http://www.w3.org/2000/svg";

export function wirePlan(plan) {
  if (!groundOf(plan)) return;
  plan.addEventListener("click", (event) => {
    const ground = groundOf(plan);
    open(plan, ...ground.toMetres(event), ground);
  });
  let at = null;
  plan.addEventListener("keydown", (event) => {
    const ground = groundOf(plan);
    const [x0, y0, x1, y1] = ground.bounds;
    const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
    if (way) {
      event.preventDefault();
      const step = event.shiftKey ? LONG_STEP_M : STEP_M;
      at = at ? [at[0] + way[0] * step, at[1] + way[1] * step] : [(x0 + x1) / 2, (y0 + y1) / 2];
      show(ground, at);
    } else if (event.key === "Enter" && at) {
      open(plan, ...at, ground);
    }
  });
}

function show(ground, at) {
  let ring = ground.view.querySelector(".put-ring");
  if (!ring) {
    ring = document.createElementNS(SVG, "circle");
    ring.setAttribute("class", "put-ring");
    ring.setAttribute("r", "9");
    ground.view.append(ring);
  }
  const [u, v] = ground.toUnits(...at);
  ring.setAttribute("cx", u);
  ring.setAttribute("cy", v);
  document.getElementById("place-said").textContent = `${at[0].toFixed(2)} m E, ${at[1].toFixed(2)} m N`;
}

function open(plan, x, y, ground) {
  if (ground.holds(x, y)) location.assign(withPlace(plan.dataset.address, BALL, x, y));
}
