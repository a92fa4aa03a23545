// What is moved on a drawing: each handle knows under which names the address states it, where it stands, and what it keeps to.
import { groundOf, placeIn } from "./ground.js";

const GRIP_PX = 26, SNAP_PX = 90, YARD_M = 0.9144;
const SVG = "http://www.w3.org/2000/svg";
const BALL = { name: "ball", names: ["x", "y"], line: null, isOnEdge: false };

// The handles of a page, the one that a touch puts first: chosen beside the map, else the ball.
export function handlesOf(map) {
  const picks = [...document.querySelectorAll("#handles input")];
  if (!picks.length) return [BALL];
  const made = picks.map((pick) => ({ pick, name: pick.dataset.handle, names: pick.value.split(" "), line: lineOf(pick), isOnEdge: pick.dataset.keeps === "edge" }));
  return made.sort((one, other) => other.pick.checked - one.pick.checked);
}

function lineOf(pick) {
  if (!pick.dataset.line) return null;
  const [x0, y0, x1, y1] = pick.dataset.line.split(" ").map(Number);
  return { from: [x0, y0], way: [x1 - x0, y1 - y0] };
}

export function placeOf(handle, address) {
  if (!handle.line) return placeIn(address, handle.names) ?? (handle.names[0] === "x" ? ballIn(address) : null);
  const asked = new URL(address, location.origin).searchParams.get(handle.names[0]);
  return asked === null ? null : onLine(handle.line, metres(asked));
}

// A length as it may be typed: in metres, or as 20 yd.
function metres(text) {
  const amount = Number(text.replace("yd", "").trim().replace(",", "."));
  return text.endsWith("yd") ? amount * YARD_M : amount;
}

// A ball that is stated along the hole: the page says where that is on the course.
function ballIn(address) {
  const told = document.getElementById("map")?.dataset.ball;
  return told && new URL(address, location.origin).searchParams.has("before") ? told.split(" ").map(Number) : null;
}

function onLine({ from, way }, along_m) {
  return [from[0] + way[0] * along_m, from[1] + way[1] * along_m];
}

function alongLine({ from, way }, [x, y]) {
  return Math.max(0, (x - from[0]) * way[0] + (y - from[1]) * way[1]);
}

// Where a handle comes to stand when it is put at a place: on its line, on the nearest drawn edge, or there.
export function kept(handle, at, map) {
  if (handle.line) return onLine(handle.line, alongLine(handle.line, at));
  return handle.isOnEdge ? onEdge(groundOf(map), at) : at;
}

// The address with a handle put at a place that it keeps to.
export function withHandle(address, handle, at) {
  const url = new URL(address, location.origin);
  if (handle.line) {
    url.searchParams.set(handle.names[0], alongLine(handle.line, at).toFixed(2));
  } else {
    if (handle.names[0] === "x") for (const name of ["before", "right", "lost"]) url.searchParams.delete(name);
    handle.names.forEach((name, number) => url.searchParams.set(name, at[number].toFixed(handle.isOnEdge ? 3 : 2)));
  }
  return url.pathname + url.search;
}

function onEdge(ground, at) {
  const [u, v] = ground.toUnits(...at);
  let best = null, least = SNAP_PX;
  for (const edge of ground.svg.querySelectorAll("path:is(.red,.yellow,.unmarked,.gur,.tw,.burrow)")) {
    if (edge.closest(".legend")) continue;
    for (const chain of edge.getAttribute("d").split("M").filter(Boolean)) {
      const isRing = chain.endsWith("Z");
      const points = chain.replace("Z", "").split("L").map((pair) => pair.split(" ").map(Number));
      if (isRing) points.push(points[0]);
      for (let number = 1; number < points.length; number += 1) {
        const near = nearestOn(points[number - 1], points[number], [u, v]);
        const away = Math.hypot(near[0] - u, near[1] - v);
        if (away < least) [best, least] = [near, away];
      }
    }
  }
  return best ? ground.fromUnits(...best) : at;
}

function nearestOn([ax, ay], [bx, by], [x, y]) {
  const long = (bx - ax) ** 2 + (by - ay) ** 2;
  const share = long ? Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / long)) : 0;
  return [ax + share * (bx - ax), ay + share * (by - ay)];
}

// Invisible discs that a finger finds; on them a touch does not scroll the page.
export function layGrips(map, handles, address) {
  const ground = groundOf(map);
  map.querySelectorAll(".grip").forEach((grip) => grip.remove());
  for (const handle of [...handles].reverse()) {
    const at = placeOf(handle, address);
    if (!at || !ground.holds(...at)) continue;
    const grip = document.createElementNS(SVG, "circle");
    grip.setAttribute("class", "grip");
    grip.dataset.handle = handle.name;
    grip.setAttribute("r", String(GRIP_PX));
    const [u, v] = ground.toUnits(...at);
    grip.setAttribute("transform", `translate(${u} ${v})`);
    ground.view.append(grip);
  }
}
