// The socket of a moving ball: one question at a time, the newest place wins, what comes late is let go.

export class Moving {
  constructor(map) {
    this.map = map;
    this.seq = 0;
    this.waiting = null;
    this.isAsked = false;
    this.socket = new WebSocket(`ws://${location.host}/moving`);
    this.socket.addEventListener("open", () => this.send());
    this.socket.addEventListener("message", (event) => this.draw(JSON.parse(event.data)));
  }

  ask(query, bounds) {
    this.seq += 1;
    this.waiting = JSON.stringify({ seq: this.seq, query, bounds });
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
    const view = this.map.querySelector("[data-bounds]");
    if (!view || told.error) return;
    this.map.classList.add("moving");
    lay(view, "moving-under", told.under, view.querySelector(".layer-edges"));
    lay(view, "moving-over", told.over, view.querySelector(".layer-words"));
  }

  close() {
    this.socket.close();
  }
}

function lay(view, name, marks, before) {
  const made = new DOMParser().parseFromString(`<svg xmlns="http://www.w3.org/2000/svg"><g class="${name}">${marks}</g></svg>`, "image/svg+xml");
  const group = document.adoptNode(made.documentElement.firstElementChild);
  const old = view.querySelector(`.${name}`);
  if (old) old.replaceWith(group);
  else view.insertBefore(group, before);
}
