// Where a touch on a drawing lies on the course: a drawing states the ground it shows and where that lies on it.

export const BALL = ["x", "y"];

export function groundOf(frame) {
  const views = frame ? [...frame.querySelectorAll("[data-bounds]")] : [];
  const view = views.find((each) => each.ownerSVGElement.getClientRects().length) ?? views[0]; // a page holds a wide and a narrow one
  if (!view) return null;
  const [x0, y0, x1, y1] = view.dataset.bounds.split(" ").map(Number);
  const [left, top, width, height] = view.dataset.box.split(" ").map(Number);
  const svg = view.ownerSVGElement;
  const fromUnits = (u, v) => [x0 + ((u - left) / width) * (x1 - x0), y1 - ((v - top) / height) * (y1 - y0)];
  return {
    svg,
    view,
    bounds: [x0, y0, x1, y1],
    width: svg.viewBox.baseVal.width,
    toUnits: (x, y) => [left + ((x - x0) / (x1 - x0)) * width, top + ((y1 - y) / (y1 - y0)) * height],
    fromUnits,
    toMetres(event) {
      const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
      return fromUnits(at.x, at.y);
    },
    holds: (x, y) => x >= x0 && x <= x1 && y >= y0 && y <= y1,
  };
}

export function withPlace(address, [nameX, nameY], x, y) {
  const url = new URL(address, location.origin);
  for (const name of ["before", "right", "lost"]) url.searchParams.delete(name);
  url.searchParams.set(nameX, x.toFixed(2));
  url.searchParams.set(nameY, y.toFixed(2));
  return url.pathname + url.search;
}

export function placeIn(address, [nameX, nameY]) {
  const asked = new URL(address, location.origin).searchParams;
  if (!asked.has(nameX) || !asked.has(nameY)) return null;
  return [asked.get(nameX), asked.get(nameY)].map((text) => Number(text.replace(",", ".")));
}
