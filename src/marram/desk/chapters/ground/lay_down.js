// The page of the day: a touch on the drawing fills the place of the form, a drag moves it; corners of a ring follow each other.
import { groundOf } from "./ground.js";

const SVG = "http://www.w3.org/2000/svg";
const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
const STEP_M = 0.1, LONG_STEP_M = 1, TAP_PX = 6;
const map = document.getElementById("day-map"), form = document.getElementById("laying");

if (map && form && groundOf(map)) wire();

function wire() {
  const field = (name) => form.elements[name];
  const state = { from: null, corner: -1, isDragged: false };
  form.querySelector(".pick-l").hidden = false;
  document.getElementById("clear-ring").addEventListener("click", () => { field("ring").value = ""; draw(); });
  field("kind").addEventListener("change", fit);
  for (const name of ["x", "y", "radius", "ring"]) field(name).addEventListener("input", draw);
  window.matchMedia("(max-width:760px)").addEventListener("change", draw);
  map.addEventListener("pointerdown", (event) => {
    if (event.button !== 0 || event.target.closest("summary, a")) return;
    state.from = [event.clientX, event.clientY];
    state.isDragged = false;
    state.corner = isRing() ? nearCorner(event) : -1;
    if (event.pointerType !== "touch" || isOnPlace(event) || state.corner >= 0) {
      map.setPointerCapture(event.pointerId);
      state.drags = true;
    } else state.drags = false;
  });
  map.addEventListener("pointermove", (event) => {
    if (!state.from || !state.drags) return;
    if (!state.isDragged && Math.hypot(event.clientX - state.from[0], event.clientY - state.from[1]) <= TAP_PX) return;
    if (isRing() && state.corner < 0) return;
    state.isDragged = true;
    put(groundOf(map).toMetres(event), state.corner);
  });
  map.addEventListener("pointerup", (event) => {
    if (!state.from) return;
    const isTap = Math.hypot(event.clientX - state.from[0], event.clientY - state.from[1]) <= TAP_PX;
    if (isTap || state.isDragged) put(groundOf(map).toMetres(event), state.corner);
    state.from = null;
  });
  map.addEventListener("pointercancel", () => { state.from = null; });
  map.addEventListener("keydown", (event) => {
    const way = WAYS[event.key];
    if (!way) return;
    event.preventDefault();
    const [x0, y0, x1, y1] = groundOf(map).bounds, step_m = event.shiftKey ? LONG_STEP_M : STEP_M;
    const at = place() ?? [(x0 + x1) / 2, (y0 + y1) / 2];
    put([at[0] + way[0] * step_m, at[1] + way[1] * step_m], -1, true);
  });
  fit();

  function isRing() {
    return form.elements.touch.value === "ring" && field("kind").value !== "hole-location";
  }

  function put([x, y], corner = -1, isPoint = false) {
    if (isRing() && !isPoint) {
      const corners = ring();
      if (corner >= 0) corners[corner] = [x, y];
      else corners.push([x, y]);
      field("ring").value = corners.map((each) => each.map((metres) => metres.toFixed(2)).join(" ")).join("\n");
    } else {
      field("x").value = x.toFixed(2);
      field("y").value = y.toFixed(2);
      for (const name of ["before", "right", "on", "from_edge"]) field(name).value = "";
    }
    draw();
  }

  function number(text) {
    return Number(text.replace(",", "."));
  }

  function place() {
    const at = [field("x").value, field("y").value];
    return at.every((text) => text !== "" && Number.isFinite(number(text))) ? at.map(number) : null;
  }

  function ring() {
    const lines = field("ring").value.split(/[\n;|]+/).map((line) => line.trim().split(/\s+/).map(number));
    return lines.filter((corner) => corner.length === 2 && corner.every(Number.isFinite));
  }

  function isOnPlace(event) {
    return far(event, place()) < 24;
  }

  function nearCorner(event) {
    return ring().findIndex((corner) => far(event, corner) < 18);
  }

  function far(event, at) {
    if (!at) return Infinity;
    const ground = groundOf(map), [u, v] = ground.toUnits(...at), shown = new DOMPoint(u, v).matrixTransform(ground.svg.getScreenCTM());
    return Math.hypot(shown.x - event.clientX, shown.y - event.clientY);
  }

  // Fields that do not belong to what is laid down stay out of the way.
  function fit() {
    const kind = field("kind").value;
    for (const label of form.querySelectorAll(".of-hole")) label.hidden = kind !== "hole-location";
    for (const label of form.querySelectorAll(".of-ground")) label.hidden = kind === "hole-location";
    for (const label of form.querySelectorAll(".of-zone")) label.hidden = kind !== "dropping-zone";
    for (const name of ["before", "right"]) field(name).closest("label").hidden = kind === "hole-location";
    form.querySelector(".pick-l").hidden = kind === "hole-location";
    draw();
  }

  function draw() {
    for (const old of map.querySelectorAll(".laid-mark")) old.remove();
    const ground = groundOf(map), scale = ground.toUnits(1, 0)[0] - ground.toUnits(0, 0)[0];
    const corners = isRing() ? ring() : [], at = place(), isPoint = field("kind").value === "hole-location";
    if (corners.length) {
      mark(ground, "polygon", "laid-ring", { points: corners.map((corner) => ground.toUnits(...corner).join(",")).join(" ") });
      for (const corner of corners) circle(ground, corner, "put-ring", 5);
    } else if (at) {
      const radius = number(field("radius").value);
      if (!isPoint && radius > 0) circle(ground, at, "laid-ring", radius * scale);
      circle(ground, at, "put-ring", 9);
    }
  }

  function circle(ground, at, name, r) {
    const [cx, cy] = ground.toUnits(...at);
    mark(ground, "circle", name, { cx, cy, r });
  }

  function mark(ground, kind, name, told) {
    const made = document.createElementNS(SVG, kind);
    made.setAttribute("class", `${name} laid-mark`);
    for (const [key, value] of Object.entries(told)) made.setAttribute(key, value);
    ground.view.append(made);
  }
}
