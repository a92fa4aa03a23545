// The socket of what is moved: one question at a time, the newest place wins, what comes late is let go.
import { groundOf } from "./ground.js";

export class Moving {
  constructor(map, isGone) {
    this.map = map;
    this.seq = 0;
    this.waiting = null;
    this.isAsked = false;
    this.socket = new WebSocket(`ws://${location.host}/moving`);
    this.socket.addEventListener("open", () => this.send());
    this.socket.addEventListener("message", (event) => this.draw(JSON.parse(event.data)));
    this.socket.addEventListener("close", () => { if (!this.isClosed) isGone(); });
  }

  ask(query, bounds, width) {
    this.seq += 1;
    this.waiting = JSON.stringify({ seq: this.seq, query, bounds, width });
    this.send();
  }

  send() {
    if (!this.waiting || this.isAsked || this.socket.readyState !== WebSocket.OPEN) return;
    this.isAsked = true;
    this.socket.send(this.waiting);
    this.waiting = null;
  }

  draw(told) {
    this.isAsked = false;
    this.send();
    const view = groundOf(this.map)?.view;
    if (!view || told.seq === undefined) return;
    this.map.classList.add("moving");
    lay(view, "moving-under", told.under, view.querySelector(".layer-edges"));
    lay(view, "moving-over", told.over, view.querySelector(".layer-words"));
  }

  close() {
    this.isClosed = true;
    this.socket.close();
  }
}

function lay(view, name, marks, before) {
  const made = new DOMParser().parseFromString(`<svg xmlns="http://www.w3.org/2000/svg"><g class="${name}">${marks}</g></svg>`, "image/svg+xml");
  const group = document.adoptNode(made.documentElement.firstElementChild);
  const old = view.querySelector(`.${name}`);
  if (old) old.replaceWith(group);
  else before ? before.before(group) : view.append(group);
}
