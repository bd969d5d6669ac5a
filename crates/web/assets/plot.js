// Reading places off the drawing of pulls, and coming nearer. Without this the table stands for it.

const NEAREST = 8;

/** So near to the middle of a ring, in the drawing, what it stands for is said. */
const REACH = 6;

const places = (path) =>
  path
    .getAttribute("d")
    .split(/[ML]/)
    .filter(Boolean)
    .map((pair) => pair.trim().split(" ").map(Number));

const apart = ([x, y], [u, v]) => (x - u) ** 2 + (y - v) ** 2;

/** From a place in the drawing to what it means. */
const scale = (text) => {
  const [from, to, low, high] = text.split(" ").map(Number);
  return (at) => low + ((at - from) / (to - from)) * (high - low);
};

const element = (name, attributes) => {
  const made = document.createElementNS("http://www.w3.org/2000/svg", name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
};

const button = (label, act) => {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "quiet";
  made.textContent = label;
  made.addEventListener("click", act);
  return made;
};

for (const figure of document.querySelectorAll("figure.plot")) {
  const svg = figure.querySelector("svg");
  const curves = [...svg.querySelectorAll(".pp-curve")].map((path) => ({
    name: path.dataset.name,
    points: places(path),
  }));
  if (curves.length === 0) continue;
  const events = [...svg.querySelectorAll(".pp-event")].map((ring) => ({
    said: ring.querySelector("title").textContent,
    place: ["cx", "cy"].map((name) => Number(ring.getAttribute(name))),
  }));
  // The ring that was gone to last by its keys.
  let ring = -1;
  const [stroke, force] = [scale(svg.dataset.x), scale(svg.dataset.y)];
  const whole = svg.getAttribute("viewBox").split(" ").map(Number);
  let view = [...whole];
  let at = { curve: 0, point: 0 };

  const said = document.createElement("p");
  said.className = "plot-said";
  said.setAttribute("role", "status");
  const span = document.createElement("p");
  span.className = "hint";
  const dot = element("circle", { r: 3.5, class: "pp-dot", visibility: "hidden" });
  svg.append(dot);

  const show = () => {
    const curve = curves[at.curve];
    const [x, y] = curve.points[at.point];
    dot.setAttribute("cx", x);
    dot.setAttribute("cy", y);
    dot.setAttribute("visibility", "visible");
    const here =
      `${curve.name}: ${figure.dataset.stroke} ${stroke(x).toFixed(2)} · ` +
      `${figure.dataset.force} ${force(y).toFixed(2)}`;
    const near = events.filter(({ place }) => apart(place, [x, y]) < REACH ** 2);
    said.textContent = [here, ...near.map((event) => event.said)].join(" · ");
  };

  /** To the point that lies nearest to a place, whichever pull's it is. */
  const nearestTo = (place) => {
    let best = Infinity;
    curves.forEach((curve, c) =>
      curve.points.forEach((point, p) => {
        const far = apart(point, place);
        if (far < best) [best, at] = [far, { curve: c, point: p }];
      }),
    );
  };

  /** To the next ring, or the one before; from the last to the first. The dot stands in it, and it is said. */
  const toRing = (by) => {
    if (events.length === 0) return show();
    ring = ring < 0 && by < 0 ? events.length - 1 : (ring + by + events.length) % events.length;
    const { said: what, place } = events[ring];
    nearestTo(place);
    dot.setAttribute("cx", place[0]);
    dot.setAttribute("cy", place[1]);
    dot.setAttribute("visibility", "visible");
    said.textContent = what;
  };

  const zoom = (factor) => {
    const [x, y] = curves[at.curve].points[at.point];
    const wide = Math.min(whole[2], Math.max(whole[2] / NEAREST, view[2] / factor));
    const high = (wide / whole[2]) * whole[3];
    const within = (middle, size, most) => Math.min(Math.max(0, middle - size / 2), most - size);
    view = [within(x, wide, whole[2]), within(y, high, whole[3]), wide, high];
    svg.setAttribute("viewBox", view.join(" "));
    // Nearer, the numbers of the axes are out of sight: what is seen is said.
    const from = (low, high) => `${low.toFixed(1)} – ${high.toFixed(1)}`;
    const strokes = from(stroke(view[0]), stroke(view[0] + wide));
    const forces = from(Math.max(0, force(view[1] + high)), force(view[1]));
    span.textContent =
      wide < whole[2] ? `${figure.dataset.stroke} ${strokes} · ${figure.dataset.force} ${forces}` : "";
  };

  svg.addEventListener("pointermove", (event) => {
    const to = svg.getScreenCTM().inverse();
    const here = new DOMPoint(event.clientX, event.clientY).matrixTransform(to);
    nearestTo([here.x, here.y]);
    show();
  });

  const along = (by) => {
    const last = curves[at.curve].points.length - 1;
    at.point = Math.min(Math.max(0, at.point + by), last);
  };
  const across = (by) => {
    const [x] = curves[at.curve].points[at.point];
    at.curve = (at.curve + by + curves.length) % curves.length;
    const points = curves[at.curve].points;
    const far = (point) => Math.abs(point[0] - x);
    at.point = points.reduce((best, point, i) => (far(point) < far(points[best]) ? i : best), 0);
  };
  const keys = {
    ArrowRight: () => along(1),
    ArrowLeft: () => along(-1),
    PageDown: () => along(10),
    PageUp: () => along(-10),
    ArrowDown: () => across(1),
    ArrowUp: () => across(-1),
    "+": () => zoom(1.5),
    "-": () => zoom(1 / 1.5),
    0: () => zoom(1 / NEAREST),
  };
  // These say what they come to by themselves.
  const ringKeys = { e: () => toRing(1), E: () => toRing(-1) };
  svg.setAttribute("tabindex", "0");
  svg.addEventListener("keydown", (event) => {
    const to = ringKeys[event.key];
    const act = to ?? keys[event.key];
    if (!act || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    act();
    if (!to) show();
  });

  const hint = document.createElement("p");
  hint.className = "hint";
  const keysSaid = [figure.dataset.keys, ...(events.length > 0 ? [figure.dataset.rings] : [])];
  hint.textContent = keysSaid.join(" ");
  const row = document.createElement("div");
  row.className = "buttons";
  row.append(
    button(figure.dataset.in, () => zoom(1.5)),
    button(figure.dataset.out, () => zoom(1 / 1.5)),
    button(figure.dataset.whole, () => zoom(1 / NEAREST)),
  );
  svg.after(span, said, row, hint);
}
