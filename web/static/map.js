// Draws the map with WebGL in the place of the server's picture, where the
// browser can; the picture stays wherever anything fails.
const theme = window.matchMedia("(prefers-color-scheme: dark)");
const token = (name) => getComputedStyle(document.documentElement).getPropertyValue(`--${name}`).trim();

// As in the stylesheet: one colour a rig, besides its pattern.
const colours = ["work", "ask", "wash", "ink", "yard", "soft"];

// Widths of roads at zooms 8 and 14, the least important first.
const roads = [
  [["driveway", "track", "service"], 0.3, 1], [["residential", "living_street", "unclassified", "ferry"], 0.4, 1.6],
  [["tertiary", "secondary"], 0.7, 3], [["primary", "trunk", "motorway"], 1.2, 5],
];

const font = ["system-ui", "sans-serif"];

function canDraw() {
  try {
    return Boolean(document.createElement("canvas").getContext("webgl2"));
  } catch {
    return false;
  }
}

function roadLayers() {
  const lines = roads.map(([classes, far, near]) => ({
    id: `road-${classes[0]}`, type: "line", source: "roads", "source-layer": "roads",
    filter: ["in", ["get", "class"], ["literal", classes]],
    layout: { "line-cap": "round", "line-join": "round" },
    paint: { "line-color": token("edge"), "line-opacity": 0.55, "line-width": ["interpolate", ["linear"], ["zoom"], 8, far, 14, near] },
  }));
  const names = {
    id: "road-names", type: "symbol", source: "roads", "source-layer": "roads", minzoom: 12, filter: ["has", "name"],
    layout: { "symbol-placement": "line", "text-field": ["get", "name"], "text-font": font, "text-size": 12 },
    paint: { "text-color": token("soft"), "text-halo-color": token("card"), "text-halo-width": 1.5 },
  };
  return [...lines, names];
}

function driveLayer({ style, dash, width, alone }, solo) {
  const paint = { "line-color": token(colours[style % colours.length]), "line-width": solo ? alone : width };
  if (dash.length > 0) paint["line-dasharray"] = dash;
  return {
    id: `drive-${style}-${solo}`, type: "line", source: "drives", paint, layout: { "line-join": "round" },
    filter: ["all", ["==", ["get", "style"], style], ["==", ["get", "solo"], solo]],
  };
}

function placeLayers() {
  const label = {
    id: "place-names", type: "symbol", source: "places",
    layout: { "text-field": ["get", "label"], "text-font": font, "text-size": 13, "text-variable-anchor": ["left", "right", "top", "bottom"], "text-radial-offset": 0.8, "text-justify": "auto" },
    paint: { "text-color": token("ink"), "text-halo-color": token("card"), "text-halo-width": 2 },
  };
  const mark = {
    id: "places", type: "symbol", source: "places",
    layout: { "icon-image": ["case", ["get", "home"], "home", "yard"], "icon-allow-overlap": true },
  };
  return [mark, label];
}

function styleOf(drawing) {
  const sources = { drives: { type: "geojson", data: drawing.drives }, places: { type: "geojson", data: drawing.places } };
  let layers = [{ id: "ground", type: "background", paint: { "background-color": token("card") } }];
  if (drawing.tiles) {
    sources.roads = { type: "vector", tiles: [location.origin + drawing.tiles], maxzoom: drawing.deepest };
    layers = layers.concat(roadLayers());
  }
  for (const stroke of drawing.strokes) layers.push(driveLayer(stroke, false), driveLayer(stroke, true));
  return { version: 8, sources, layers: layers.concat(placeLayers()) };
}

// A square for home, a disc for a yard, in ink.
function mark(shape) {
  const size = 26;
  const canvas = Object.assign(document.createElement("canvas"), { width: size, height: size });
  const pen = canvas.getContext("2d");
  pen.fillStyle = token("ink");
  pen.strokeStyle = token("card");
  pen.lineWidth = 3;
  pen.beginPath();
  if (shape === "home") pen.rect(3, 3, size - 6, size - 6);
  else pen.arc(size / 2, size / 2, size / 2 - 3, 0, 2 * Math.PI);
  pen.fill();
  pen.stroke();
  return pen.getImageData(0, 0, size, size);
}

function addMark(map, shape) {
  if (!map.hasImage(shape)) map.addImage(shape, mark(shape), { pixelRatio: 2 });
}

async function draw(frame) {
  const answer = await fetch(frame.dataset.map, { headers: { Accept: "application/json" } });
  if (!answer.ok) return;
  const [drawing, library] = [await answer.json(), await import("./vendor/maplibre-gl.mjs")];
  const box = Object.assign(document.createElement("div"), { className: "map-gl" });
  frame.append(box);
  const map = new library.Map({
    container: box, style: styleOf(drawing), bounds: drawing.bounds, fitBoundsOptions: { padding: 40, maxZoom: 13 },
    attributionControl: false, locale: { "Map.Title": "Map of the drives" }, cooperativeGestures: true, dragRotate: false, pitchWithRotate: false, fadeDuration: 0,
  });
  map.on("style.load", () => ["home", "yard"].forEach((shape) => addMark(map, shape)));
  map.addControl(new library.NavigationControl({ showCompass: false }));
  map.addControl(new library.ScaleControl());
  if (drawing.credit) map.addControl(new library.AttributionControl({ compact: false, customAttribution: drawing.credit }));
  theme.addEventListener("change", () => map.setStyle(styleOf(drawing), { diff: false }));
  map.on("idle", () => {
    frame.querySelector("svg.map").setAttribute("aria-hidden", "true");
    frame.dataset.ready = token("card");
  });
}

if (canDraw()) {
  for (const frame of document.querySelectorAll("[data-map]")) {
    draw(frame).catch(() => frame.querySelector(".map-gl")?.remove());
  }
}
