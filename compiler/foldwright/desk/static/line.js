// The line to the desk's server: one web socket, taken up again when it breaks, and what was last typed sent first.

export class Line extends EventTarget {
  #address; #socket = null; #wait = 250; #first; #questions = new Map(); #asked = 0;

  // `first()` gives what the server is told each time the line is taken up.
  constructor(path, first) {
    super();
    this.#address = `ws://${location.host}${path}`;
    this.#first = first;
    this.#open();
    // A sleeping laptop or a tab brought back: no need to wait for the next try.
    addEventListener("online", () => this.#open());
    document.addEventListener("visibilitychange", () => { if (!document.hidden) this.#open(); });
  }

  get up() { return this.#socket !== null && this.#socket.readyState === WebSocket.OPEN; }

  send(message) {
    if (this.up) this.#socket.send(JSON.stringify(message));
    return this.up;
  }

  // A question with one answer; nothing comes back when the line is down.
  ask(message) {
    const number = (this.#asked += 1);
    if (!this.send({ ...message, ask: number })) return Promise.resolve(null);
    return new Promise((answer) => this.#questions.set(number, answer));
  }

  #open() {
    if (this.#socket !== null && this.#socket.readyState < WebSocket.CLOSING) return;
    const socket = new WebSocket(this.#address);
    this.#socket = socket;
    socket.onopen = () => {
      this.#wait = 250;
      this.dispatchEvent(new Event("up"));
      this.send(this.#first());
    };
    socket.onmessage = (event) => {
      const message = JSON.parse(event.data);
      if (message.to !== undefined) {
        this.#questions.get(message.to)?.(message);
        this.#questions.delete(message.to);
      } else {
        this.dispatchEvent(new CustomEvent(message.is, { detail: message }));
      }
    };
    socket.onclose = () => {
      if (this.#socket !== socket) return;
      for (const answer of this.#questions.values()) answer(null);
      this.#questions.clear();
      this.dispatchEvent(new Event("down"));
      setTimeout(() => this.#open(), this.#wait);
      this.#wait = Math.min(this.#wait * 2, 5000);
    };
  }
}
