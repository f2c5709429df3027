// A piece in space, turned with the pointer or the arrow keys and folded with a slider.
//
// `takeUp(place, piece, words, picture)` puts it into `place`: `piece` is what `authoring.frames` gives, `words` the
// texts it is spoken of with, `picture` a drawing to show where the browser draws nothing in space. It gives back
// `show(piece)`, to have the next one in its stead, and `dispose()`. Nothing of three.js is loaded before.

const NEAREST = 0.6, FARTHEST = 2.5, TURN = Math.PI / 24, FULL = 100;
const A_PIXEL = 0.01;
const TURNING_MS = 350;
const ELEVATION = Math.PI / 6;
const FIELD = 28;
// Dashes and gaps in parts of the piece's size, as plans have them: `pens.py`.
const DASHES = { valley: [0.04, 0.014], mountain: [0.04, 0.011, 0.005, 0.011], flat: [0.014, 0.01] };

export async function takeUp(place, piece, words, picture = "") {
  const parts = build(words);
  if (!parts.canvas.getContext("webgl2")) return asDrawn(place, words, picture);
  const { THREE } = await import("/three/index.js");
  place.append(parts.whole);
  const view = new Space(THREE, parts.canvas);
  const shown = new AbortController();
  let now = piece;

  const told = () => {
    const way = wordFor(now, Number(parts.slider.value) / FULL, words);
    parts.way.textContent = way;
    parts.slider.setAttribute("aria-valuetext", way);
    parts.canvas.setAttribute("aria-label", filled(words.name, { piece: now.piece, way }));
  };
  const show = (next) => {
    now = next;
    view.hold(next);
    parts.label.hidden = next.frames.length < 2;
    view.fold(Number(parts.slider.value) / FULL);
    told();
  };
  const listen = (thing, name, act) => thing.addEventListener(name, act, { signal: shown.signal });
  listen(parts.slider, "input", () => {
    view.fold(Number(parts.slider.value) / FULL);
    told();
  });
  listen(parts.button, "click", () => view.turnOver());
  listen(parts.canvas, "keydown", (event) => {
    const act = keys(view)[event.key];
    if (!act || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    act();
  });
  for (const button of parts.turns.children) listen(button, "click", keys(view)[button.value]);
  const fingers = new Map();
  listen(parts.canvas, "pointerdown", (event) => {
    parts.canvas.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
  });
  listen(parts.canvas, "pointermove", (event) => {
    const from = fingers.get(event.pointerId);
    if (!from) return;
    const before = apart(fingers);
    const now = { x: event.clientX, y: event.clientY };
    fingers.set(event.pointerId, now);
    if (fingers.size === 1) view.turn((now.x - from.x) * A_PIXEL, (now.y - from.y) * A_PIXEL);
    else view.come(before / apart(fingers));
  });
  listen(parts.canvas, "lostpointercapture", (event) => fingers.delete(event.pointerId));
  show(piece);
  return {
    show,
    held: () => view.held(),
    dispose() {
      shown.abort();
      view.dispose();
      parts.whole.remove();
    },
  };
}

const keys = (view) => ({
  ArrowLeft: () => view.turn(-TURN, 0),
  ArrowRight: () => view.turn(TURN, 0),
  ArrowUp: () => view.turn(0, -TURN),
  ArrowDown: () => view.turn(0, TURN),
  "+": () => view.come(0.9),
  "=": () => view.come(0.9),
  "-": () => view.come(1 / 0.9),
});

// How far two fingers are apart.
function apart(fingers) {
  const [one, other = one] = fingers.values();
  return Math.max(1, Math.hypot(one.x - other.x, one.y - other.y));
}

// What the keys do, for who has none or cannot draw a finger over the piece.
const TURNS = [["ArrowLeft", "←", "left"], ["ArrowRight", "→", "right"], ["ArrowUp", "↑", "up"], ["ArrowDown", "↓", "down"], ["+", "+", "nearer"], ["-", "−", "farther"]];

const filled = (text, slots) => text.replace(/\{(\w+)\}/g, (_, name) => slots[name] ?? "");

function wordFor(piece, part, words) {
  if (piece.frames.length < 2) return words["stays-flat"];
  if (part <= 0) return words.flat;
  if (part >= 1) return words.folded;
  return part < 0.35 ? words.little : part <= 0.65 ? words.half : words.mostly;
}

function make(name, more = {}, ...inside) {
  const thing = Object.assign(document.createElement(name), more);
  thing.append(...inside);
  return thing;
}

function build(words) {
  const canvas = make("canvas", { tabIndex: 0 });
  canvas.setAttribute("role", "img");
  const slider = make("input", { type: "range", min: 0, max: FULL, step: 1, value: FULL });
  const way = make("output");
  way.setAttribute("aria-hidden", "true");
  const label = make("label", {}, make("span", { textContent: words.slider }), slider, way);
  const button = make("button", { type: "button", textContent: words["other-side"] });
  const signs = TURNS.map(([value, textContent, way]) => make("button", { type: "button", value, textContent, ariaLabel: words[`turn-${way}`] }));
  const turns = make("div", { className: "folded-turns", role: "group", ariaLabel: words.turn }, ...signs);
  const controls = make("div", { className: "folded-controls" }, label, turns, button);
  const whole = make("div", { className: "folded" }, canvas, controls);
  return { whole, canvas, slider, way, label, turns, button };
}

function asDrawn(place, words, picture) {
  const note = make("p", { textContent: words["no-pictures"] });
  const drawn = make("div");
  drawn.innerHTML = picture;
  const whole = make("div", { className: "folded" }, note, drawn);
  place.append(whole);
  return { show() {}, held: () => 0, dispose: () => whole.remove() };
}

// What is drawn, and how it is looked at. Nothing is drawn unless something has changed.
class Space {
  #yaw = 0;
  #pitch = ELEVATION;
  #away = 1;
  #shapes = [];
  #waiting = 0;

  constructor(THREE, canvas) {
    this.three = THREE;
    this.canvas = canvas;
    this.renderer = new THREE.WebGLRenderer({ canvas, antialias: true, alpha: true });
    // Looks are made once: a shader takes longer to make than a piece does.
    // Faces lie a little behind their edges, so that these show.
    const look = { flatShading: true, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 };
    this.front = new THREE.MeshLambertMaterial({ ...look, side: THREE.FrontSide });
    this.back = new THREE.MeshLambertMaterial({ ...look, side: THREE.BackSide });
    this.ink = new THREE.LineBasicMaterial();
    this.scene = new THREE.Scene();
    this.camera = new THREE.PerspectiveCamera(FIELD, 1, 0.5, 16);
    this.tilted = new THREE.Group();
    this.turned = new THREE.Group();
    // The table's z is up.
    this.table = new THREE.Group();
    this.table.rotation.x = -Math.PI / 2;
    const light = new THREE.DirectionalLight(0xffffff, 1.3);
    light.position.set(-0.35, 0.82, 0.6);
    this.scene.add(new THREE.HemisphereLight(0xffffff, 0xb4b4ba, 2.4), light, this.tilted);
    this.tilted.add(this.turned);
    this.turned.add(this.table);
    // What a sleeping machine has lost is drawn again.
    this.restored = () => this.#later();
    canvas.addEventListener("webglcontextrestored", this.restored);
    this.resized = new ResizeObserver(() => this.#sized());
    this.resized.observe(canvas);
  }

  // --- what is held

  hold(piece) {
    const first = !this.piece || this.piece.piece !== piece.piece;
    this.#free();
    this.piece = piece;
    if (first) [this.#yaw, this.#pitch, this.#away] = [(piece.azimuth * Math.PI) / 180, ELEVATION, 1];
    this.middles = piece.frames.map(middleOf);
    this.reaches = piece.frames.map((frame, number) => reachOf(frame, this.middles[number]));
    const reach = Math.max(...this.reaches);
    this.spots = new Float32Array(piece.frames[0].length);
    this.table.scale.setScalar(1 / reach);
    this.front.color.set(piece.front);
    this.back.color.set(piece.back);
    this.ink.color.set(piece.edge);
    this.#faces(piece);
    this.cuts = this.#lines(piece.cuts);
    this.dashes = dashesOf(piece, reach);
    this.folds = this.#lines(null, this.dashes.length * 2);
  }

  #faces(piece) {
    const { Mesh } = this.three;
    this.faces = this.#shape(this.spots);
    this.faces.setIndex(piece.panels.flatMap((panel) => panel.triangles));
    for (const paper of [this.front, this.back]) this.#put(new Mesh(this.faces, paper));
  }

  #lines(index, corners = 0) {
    const lines = this.#shape(index ? this.spots : new Float32Array(corners * 3));
    if (index) lines.setIndex([...index]);
    this.#put(new this.three.LineSegments(lines, this.ink));
    return lines;
  }

  #shape(spots) {
    const shape = new this.three.BufferGeometry();
    shape.setAttribute("position", new this.three.BufferAttribute(spots, 3));
    this.#shapes.push(shape);
    return shape;
  }

  #put(thing) {
    // Corners move: what is out of sight is not worth finding out.
    thing.frustumCulled = false;
    this.table.add(thing);
  }

  #free() {
    this.table.clear();
    for (const shape of this.#shapes) shape.dispose();
    this.#shapes = [];
  }

  held() {
    return this.renderer.info.memory.geometries;
  }

  // --- how it is folded, turned and looked at

  fold(part) {
    const { frames } = this.piece;
    const at = part * (frames.length - 1);
    const before = Math.min(Math.floor(at), Math.max(frames.length - 2, 0));
    const after = Math.min(before + 1, frames.length - 1);
    const middle = [0, 1, 2].map((axis) => between(this.middles[before][axis], this.middles[after][axis], at - before));
    for (let corner = 0; corner < this.spots.length; corner++) {
      this.spots[corner] = between(frames[before][corner], frames[after][corner], at - before) - middle[corner % 3];
    }
    this.reach = between(this.reaches[before], this.reaches[after], at - before) * this.table.scale.x;
    const drawn = this.folds.getAttribute("position");
    this.dashes.forEach(([one, other, start, end], number) => {
      for (let axis = 0; axis < 3; axis++) {
        const [near, far] = [this.spots[one * 3 + axis], this.spots[other * 3 + axis]];
        drawn.array[number * 6 + axis] = between(near, far, start);
        drawn.array[number * 6 + 3 + axis] = between(near, far, end);
      }
    });
    for (const shape of [this.faces, this.cuts, this.folds]) shape.getAttribute("position").needsUpdate = true;
    this.#later();
  }

  turn(across, down) {
    this.#yaw += across;
    this.#pitch = Math.max(-Math.PI / 2, Math.min(Math.PI / 2, this.#pitch + down));
    this.#later();
  }

  come(times) {
    this.#away = Math.max(NEAREST, Math.min(FARTHEST, this.#away * times));
    this.#later();
  }

  turnOver() {
    const [yaw, pitch] = [this.#yaw, this.#pitch];
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) {
      this.turn(Math.PI, -2 * pitch);
      return;
    }
    const began = performance.now();
    const step = (time) => {
      const part = Math.max(0, Math.min(1, (time - began) / TURNING_MS));
      [this.#yaw, this.#pitch] = [yaw + Math.PI * part, pitch - 2 * pitch * part];
      this.#draw();
      if (part < 1 && !this.gone) requestAnimationFrame(step);
    };
    requestAnimationFrame(step);
  }

  #sized() {
    const { clientWidth, clientHeight } = this.canvas;
    if (!clientWidth || !clientHeight) return;
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    this.renderer.setSize(clientWidth, clientHeight, false);
    this.camera.aspect = clientWidth / clientHeight;
    this.camera.updateProjectionMatrix();
    this.#draw();
  }

  #later() {
    this.#waiting ||= requestAnimationFrame(() => this.#draw());
  }

  #draw() {
    this.#waiting = 0;
    if (this.gone) return;
    this.turned.rotation.y = this.#yaw;
    this.tilted.rotation.x = this.#pitch;
    const narrow = Math.min(1, this.camera.aspect);
    this.camera.position.z = (1.05 * this.#away * this.reach) / Math.sin((FIELD * Math.PI) / 360) / narrow;
    this.renderer.render(this.scene, this.camera);
  }

  dispose() {
    this.gone = true;
    cancelAnimationFrame(this.#waiting);
    this.resized.disconnect();
    this.canvas.removeEventListener("webglcontextrestored", this.restored);
    this.#free();
    for (const look of [this.front, this.back, this.ink]) look.dispose();
    this.renderer.dispose();
    this.renderer.forceContextLoss();
  }
}

const between = (one, other, part) => one + (other - one) * part;

function middleOf(frame) {
  const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity];
  frame.forEach((at, corner) => {
    low[corner % 3] = Math.min(low[corner % 3], at);
    high[corner % 3] = Math.max(high[corner % 3], at);
  });
  return low.map((one, axis) => (one + high[axis]) / 2);
}

// How far the farthest corner is from the middle.
function reachOf(frame, middle) {
  let reach = 1e-6;
  for (let at = 0; at < frame.length; at += 3) {
    reach = Math.max(reach, Math.hypot(...middle.map((one, axis) => frame[at + axis] - one)));
  }
  return reach;
}

// Each dash of each fold: the corners at its ends, and which part of the way between them it takes.
function dashesOf(piece, reach) {
  const [flat] = piece.frames;
  return piece.kinds.flatMap((kind, number) => {
    const [one, other] = piece.folds.slice(number * 2, number * 2 + 2);
    const long = Math.hypot(...[0, 1, 2].map((axis) => flat[other * 3 + axis] - flat[one * 3 + axis]));
    const found = [];
    for (let at = 0, turn = 0; at < long; turn++) {
      const step = DASHES[kind][turn % DASHES[kind].length] * reach;
      if (turn % 2 === 0) found.push([one, other, at / long, Math.min(1, (at + step) / long)]);
      at += step;
    }
    return found;
  });
}
