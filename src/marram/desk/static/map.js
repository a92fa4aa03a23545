// The map of a ruling: the ball, or what a touch is chosen to put, is moved by pointer or by arrows; while it moves only shapes are redrawn, and at rest the whole page.
import { BALL, groundOf, placeIn, withPlace } from "./ground.js";
import { Moving } from "./moving.js";

const STEP_M = 0.1, LONG_STEP_M = 1, TAP_PX = 6, REST_MS = 250;
const SVG = "http://www.w3.org/2000/svg";

export function wireMap(map) {
  if (!map || !groundOf(map)) return;
  const handles = document.getElementById("handles");
  if (handles) handles.hidden = false;
  const state = { map, moving: null, rest: 0, from: null, put: null };
  map.addEventListener("pointerdown", (event) => begin(state, event));
  map.addEventListener("pointermove", (event) => follow(state, event));
  map.addEventListener("pointerup", (event) => end(state, event));
  map.addEventListener("pointercancel", () => { state.from = null; });
  map.addEventListener("keydown", (event) => step(state, event));
}

// The names under which the address states what is moved: chosen beside the map, else the ball.
function handleOf() {
  const chosen = document.querySelector('#handles input:checked');
  return chosen ? chosen.value.split(" ") : BALL;
}

function placeOf(state) {
  return state.put ?? placeIn(state.map.dataset.address, handleOf()) ?? placeIn(state.map.dataset.address, BALL);
}

function begin(state, event) {
  if (event.button !== 0) return;
  state.from = [event.clientX, event.clientY];
  state.map.setPointerCapture(event.pointerId);
}

function follow(state, event) {
  if (!state.from || far(state.from, event) <= TAP_PX) return;
  put(state, groundOf(state.map).toMetres(event));
}

function end(state, event) {
  if (!state.from) return;
  state.from = null;
  put(state, groundOf(state.map).toMetres(event));
}

function far([x, y], event) {
  return Math.hypot(event.clientX - x, event.clientY - y);
}

function step(state, event) {
  const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
  const at = placeOf(state);
  if (!way || !at) return;
  event.preventDefault();
  const step_m = event.shiftKey ? LONG_STEP_M : STEP_M;
  put(state, [at[0] + way[0] * step_m, at[1] + way[1] * step_m]);
}

function put(state, at) {
  const ground = groundOf(state.map);
  state.put = at;
  drawPut(state.map, ground, at);
  const address = withPlace(state.map.dataset.address, handleOf(), ...at);
  if (document.querySelector('[data-page="ruling"]')) {
    state.moving ??= new Moving(state.map);
    state.moving.ask(new URL(address, location.origin).search.slice(1), ground.bounds);
  }
  clearTimeout(state.rest);
  state.rest = setTimeout(() => renew(address, state), REST_MS);
}

function drawPut(map, ground, at) {
  let mark = map.querySelector(".moved-mark");
  if (!mark) {
    mark = document.createElementNS(SVG, "circle");
    mark.setAttribute("class", handleOf()[0] === "x" ? "ball moved-mark" : "put-ring moved-mark");
    mark.setAttribute("r", handleOf()[0] === "x" ? "5.5" : "9");
    ground.view.append(mark);
  }
  const [u, v] = ground.toUnits(...at);
  mark.setAttribute("transform", `translate(${u} ${v})`);
}

// The page at rest: fetched whole, its ruling laid in the place of the one shown.
export async function renew(address, state) {
  const answer = await fetch(address).catch(() => null);
  if (!answer) return stopped();
  if (address !== withPlace(state.map.dataset.address, handleOf(), ...state.put)) return;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = page.getElementById("ruling"), shown = document.getElementById("ruling");
  if (!fresh || !shown) return location.assign(address);
  const hadFocus = document.activeElement && document.activeElement.id;
  state.moving?.close();
  shown.replaceWith(document.adoptNode(fresh));
  document.title = page.title;
  history.replaceState(null, "", address);
  wireMap(document.getElementById("map"));
  if (hadFocus) document.getElementById(hadFocus)?.focus();
}

function stopped() {
  const said = document.getElementById("map-said") ?? document.createElement("p");
  said.id = "map-said";
  said.setAttribute("role", "alert");
  said.textContent = document.documentElement.dataset.stopped;
  document.getElementById("map").after(said);
}
