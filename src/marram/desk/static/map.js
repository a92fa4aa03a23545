// The map of a ruling: what the situation asks for is moved by pointer or arrows; while it moves only shapes are redrawn, at rest all words.
import { BALL, groundOf } from "./ground.js";
import { handlesOf, kept, layGrips, placeOf, withHandle } from "./handles.js";
import { Moving } from "./moving.js";
import { renew, sayStopped } from "./renew.js";

const STEP_M = 0.1, LONG_STEP_M = 1, TAP_PX = 6, REST_MS = 60;
const WAYS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
const SVG = "http://www.w3.org/2000/svg";
const narrow = window.matchMedia("(max-width:760px)");

export function wireMap(map) {
  if (!map || !groundOf(map)) return;
  const beside = document.getElementById("handles");
  if (beside) beside.hidden = false;
  // Addresses follow each other while one is still being fetched, so that the newest is kept here and not read from the page.
  const state = { map, address: map.dataset.address, handle: null, moving: null, rest: 0, from: null, isGrip: false, isDragged: false, drags: false };
  layGrips(map, handlesOf(map), state.address);
  narrow.onchange = () => layGrips(map, handlesOf(map), state.address);
  map.addEventListener("pointerdown", (event) => begin(state, event));
  map.addEventListener("pointermove", (event) => follow(state, event));
  map.addEventListener("pointerup", (event) => end(state, event));
  map.addEventListener("pointercancel", () => { state.from = null; state.isDragged = false; });
  map.addEventListener("keydown", (event) => step(state, event));
  for (const link of document.querySelectorAll("#ruling a.redraw")) link.addEventListener("click", (event) => choose(state, event));
}

// The map of another option: drawn in its place, at the newest address, and brought into sight.
async function choose(state, event) {
  if (event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
  event.preventDefault();
  const address = new URL(state.address, location.origin);
  address.searchParams.set("option", new URL(event.currentTarget.href).searchParams.get("option"));
  state.address = address.pathname + address.search;
  clearTimeout(state.rest);
  if (await renewed(state, state.address)) document.getElementById("map").focus();
}

function begin(state, event) {
  if (event.button !== 0) return;
  const handles = handlesOf(state.map), grip = event.target.closest?.(".grip");
  state.handle = handles.find((handle) => handle.name === grip?.dataset.handle) ?? handles[0];
  if (grip && state.handle.pick) state.handle.pick.checked = true;
  state.from = [event.clientX, event.clientY];
  state.isGrip = Boolean(grip);
  state.isDragged = false;
  state.drags = state.isGrip || event.pointerType !== "touch"; // a finger beside every handle scrolls the page
  state.map.setPointerCapture(event.pointerId);
}

function follow(state, event) {
  if (!state.from || !state.drags || (!state.isDragged && far(state.from, event) <= TAP_PX)) return;
  state.isDragged = true;
  put(state, groundOf(state.map).toMetres(event));
}

function end(state, event) {
  if (!state.from) return;
  const goes = state.isDragged || (!state.isGrip && far(state.from, event) <= TAP_PX);
  state.from = null;
  state.isDragged = false;
  if (goes) put(state, groundOf(state.map).toMetres(event), 0);
}

function far([x, y], event) {
  return Math.hypot(event.clientX - x, event.clientY - y);
}

function step(state, event) {
  const way = WAYS[event.key];
  if (!way) return;
  const handle = handlesOf(state.map)[0];
  event.preventDefault();
  const at = placeOf(handle, state.address) ?? (handle.line ? handle.line.from : placeOf({ names: BALL, line: null }, state.address));
  if (!at) return;
  state.handle = handle;
  const step_m = event.shiftKey ? LONG_STEP_M : STEP_M;
  put(state, stepped(handle, at, way, step_m));
}

// On a line, up and right go on, down and left come back, whatever way it runs.
function stepped(handle, [x, y], [east, north], step_m) {
  if (!handle.line) return [x + east * step_m, y + north * step_m];
  const on = (east + north) * step_m;
  return [x + handle.line.way[0] * on, y + handle.line.way[1] * on];
}

function put(state, wanted, rest_ms = REST_MS) {
  const at = kept(state.handle, wanted, state.map);
  const address = withHandle(state.address, state.handle, at);
  const isMoved = address !== state.address;
  state.address = address;
  drawPut(state, at);
  if (document.querySelector('[data-page="ruling"]') && isMoved) {
    const ground = groundOf(state.map);
    state.moving ??= new Moving(state.map, () => sayStopped());
    state.moving.ask(new URL(address, location.origin).search.slice(1), ground.bounds, ground.width);
  }
  tellFields(state.handle, address);
  clearTimeout(state.rest);
  state.rest = setTimeout(() => renewed(state, address), rest_ms);
}

async function renewed(state, address) {
  const isShown = await renew(address, () => address === state.address && !state.isDragged);
  if (!isShown) return false;
  state.moving?.close();
  wireMap(document.getElementById("map"));
  return true;
}

function drawPut(state, at) {
  const ground = groundOf(state.map), isBall = state.handle.names[0] === "x";
  let mark = state.map.querySelector(".moved-mark");
  if (!mark || mark.ownerSVGElement !== ground.svg) {
    mark?.remove();
    mark = document.createElementNS(SVG, "circle");
    ground.view.append(mark);
  }
  mark.setAttribute("class", isBall ? "ball moved-mark" : "put-ring moved-mark");
  mark.setAttribute("r", isBall ? "5.5" : "9");
  const [u, v] = ground.toUnits(...at);
  mark.setAttribute("transform", `translate(${u} ${v})`);
}

// Typed fields and the map set each other.
function tellFields(handle, address) {
  const asked = new URL(address, location.origin).searchParams;
  for (const name of handle.names) {
    for (const field of document.querySelectorAll(`#ruling input[name="${name}"]:not([type=hidden])`)) field.value = asked.get(name);
  }
}
