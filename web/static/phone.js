// The visit on the phone. Every press becomes an event with an id made here.
// It is kept in the phone's own database before anything else happens, sent
// when there is signal, and shown as server's docket + what is not in it yet.
"use strict";

const visitState = JSON.parse(document.getElementById("state").textContent);
const visit = visitState.visit;
const $ = (id) => document.getElementById(id);

// ids: UUIDv7 (RFC 9562), 48 bits of time, the rest random
function uuid7() {
  const b = crypto.getRandomValues(new Uint8Array(16));
  let t = Date.now();
  for (let i = 5; i >= 0; i--) { b[i] = t % 256; t = Math.floor(t / 256); }
  b[6] = (b[6] & 0x0f) | 0x70;
  b[8] = (b[8] & 0x3f) | 0x80;
  const hex = [...b].map((x) => x.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

function device() {
  let id = localStorage.getItem("drawbar-device");
  if (!id) localStorage.setItem("drawbar-device", (id = uuid7()));
  return id;
}

const ready = idb.openDB("drawbar", 1, {
  upgrade(db) {
    const events = db.createObjectStore("events", { keyPath: "id" });
    events.createIndex("visit", "visit");
  },
});

let base = visitState; // what the server has
let local = []; // events of this visit made on this phone, in order
let trouble = ""; // why sending does not work just now

async function start() {
  const db = await ready;
  local = (await db.getAllFromIndex("events", "visit", visit)).sort((a, b) => (a.id < b.id ? -1 : 1));
  wire();
  show();
  flush();
}

// keep stores an event, then shows and sends it.
async function keep(kind, what) {
  const event = { id: uuid7(), visit, device: device(), seq: local.length, at: new Date().toISOString(), kind };
  if (what) event.what = what;
  const entry = { id: event.id, visit, event, sent: false };
  const db = await ready;
  await db.put("events", entry);
  local.push(entry);
  show();
  flush();
}

// what an event says, from the form that was sent
function whatOf(kind, data) {
  const text = (name) => (data.get(name) || "").trim();
  const number = (name) => Number(text(name) || 0);
  switch (kind) {
    case "counted":
      return { mob: text("mob"), services: data.getAll("services"), ...(text("gate") && { gate: text("gate") }), head: data.has("head") ? number("head") : 1 };
    case "treatment":
      return {
        mob: text("mob"), head: number("head"), animals: text("animals"), product: text("product"), batch: text("batch"), expiry: text("expiry"),
        dose: text("dose").replace(",", "."), unit: text("unit"), route: text("route"), given: text("given"), meatDays: number("meatDays"),
      };
    case "note":
      return { text: text("text") };
    case "incident":
      return { mob: text("mob"), head: number("head"), text: text("text") };
    case "signature":
      return { name: text("name"), drawing: text("drawing"), seen: number("seen") };
  }
  return undefined;
}

function wire() {
  document.addEventListener("submit", (e) => {
    const form = e.target;
    if (!form.action.endsWith("/record")) return;
    e.preventDefault();
    const data = new FormData(form, e.submitter);
    const kind = data.get("kind");
    if (kind === "counted" && data.getAll("services").length === 0) return say("Tick what was done to them first.");
    if (kind === "signature" && !data.get("name").trim()) return say("Type the name of whoever signs.");
    keep(kind, whatOf(kind, data)).then(() => { if (["treatment", "note", "incident"].includes(kind)) { form.reset(); form.closest("details").open = false; say("Recorded."); } });
  });
  $("undo").addEventListener("click", () => {
    const last = lastCount();
    if (last) keep("struck", { event: last.id });
  });
  addEventListener("online", flush);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) flush(); stayAwake(); });
  setInterval(showPace, 5000);
  signing();
  stayAwake();
}

const struckOut = () => new Set(local.filter((e) => e.event.kind === "struck").map((e) => e.event.what.event));

// lastCount is the newest count made here that stands
function lastCount() {
  const struck = struckOut();
  return local.findLast((e) => e.event.kind === "counted" && !struck.has(e.id) && !e.refused);
}

// missing are the events that are not in the server's docket yet
function missing() {
  const known = new Set(base.known || []);
  return local.filter((e) => !known.has(e.id) && !e.refused).map((e) => e.event);
}

// counts by "mob service": the server's and what is missing there
function counts() {
  const all = {};
  const add = (mob, service, head) => { const key = mob + " " + service; all[key] = (all[key] || 0) + head; };
  for (const m of base.mobs) for (const s of m.services || []) add(m.id, s.code, s.head);
  const here = new Map(local.map((e) => [e.id, e.event]));
  const pending = missing();
  const gone = new Set(pending.filter((e) => e.kind === "struck").map((e) => e.what.event));
  for (const e of pending) if (e.kind === "counted" && !gone.has(e.id)) for (const s of e.what.services) add(e.what.mob, s, e.what.head);
  // a strike of something the server has counted already
  const known = new Set(base.known || []);
  for (const id of gone) if (known.has(id) && here.get(id)?.kind === "counted") for (const s of here.get(id).what.services) add(here.get(id).what.mob, s, -here.get(id).what.head);
  for (const key of Object.keys(all)) all[key] = Math.max(0, all[key]);
  return all;
}

function heads(all) {
  const byMob = {};
  for (const [key, head] of Object.entries(all)) { const mob = key.split(" ")[0]; byMob[mob] = Math.max(byMob[mob] || 0, head); }
  return byMob;
}

// times of the work: the server's milestones and the missing ones
function times() {
  const d = base.docket;
  const t = { arrived: d.arrived, setUp: d.setUp, started: d.started, finished: d.finished, left: d.left, signed: base.signed, spans: (d.work || []).map((s) => ({ from: s.from, to: s.to })) };
  for (const e of missing()) {
    const open = t.spans.at(-1) && !t.spans.at(-1).to;
    if (e.kind === "arrived") t.arrived ||= e.at;
    if (e.kind === "set up") t.setUp ||= e.at;
    if (e.kind === "started") t.started ||= e.at;
    if ((e.kind === "started" || e.kind === "resumed") && !open) { t.spans.push({ from: e.at }); t.finished = ""; }
    if ((e.kind === "paused" || e.kind === "finished") && open) t.spans.at(-1).to = e.at;
    if (e.kind === "finished") t.finished = e.at;
    if (e.kind === "signature") t.signed = "waiting";
    if (e.kind === "left") t.left = e.at;
  }
  return t;
}

function step(t) {
  if (t.signed) return t.left ? "gone" : "pack";
  if (!t.arrived && !t.started) return "arrive";
  if (!t.setUp && !t.started) return "set up";
  if (!t.started) return "start";
  if (t.spans.at(-1) && !t.spans.at(-1).to) return "work";
  return t.finished ? "sign" : "pause";
}

let shownStep = "";

function show() {
  const t = times();
  const at = step(t);
  for (const part of document.querySelectorAll("[data-step]")) part.hidden = !part.dataset.step.split(", ").includes(at);
  const all = counts();
  const byMob = heads(all);
  const total = Object.values(byMob).reduce((a, b) => a + b, 0);
  $("total").textContent = total;
  $("meter").value = total;
  $("seen").value = total;
  for (const e of document.querySelectorAll("[data-mob]")) e.textContent = byMob[e.dataset.mob] || 0;
  for (const e of document.querySelectorAll("[data-done]")) e.textContent = all[e.dataset.done] || 0;
  $("undo").hidden = !lastCount();
  $("signed-note").textContent = t.signed === "waiting" ? "Signed on this phone; it is sent when there is signal." : "The docket is signed and kept.";
  showDoubts();
  showPace();
  badge();
  if (shownStep && shownStep !== at) scrollTo({ top: 0 });
  shownStep = at;
}

// showDoubts says what does not add up, as far as the server knows
function showDoubts() {
  const box = $("doubts");
  box.querySelector("ul").replaceChildren(...(base.doubts || []).map((d) => { const li = document.createElement("li"); li.textContent = d; return li; }));
  box.hidden = !(base.doubts || []).length || missing().length > 0;
}

const clock = (ms) => new Date(ms).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });

// showPace: head an hour so far, and when it is likely to be done
function showPace() {
  const t = times();
  const now = Date.now();
  const worked = t.spans.reduce((sum, s) => sum + ((s.to ? Date.parse(s.to) : now) - Date.parse(s.from)), 0) / 1000;
  const total = Number($("total").textContent);
  const left = Math.max(0, base.head - total);
  let perHead = base.head ? base.planned / base.head : 0;
  let text = "";
  if (total >= 5 && worked > 60) {
    perHead = worked / total;
    text = Math.round(3600 / perHead) + " an hour · ";
  }
  const done = now + left * perHead * 1000;
  $("pace").textContent = left ? text + "done about " + clock(done) : text + "all counted";
}

function badge() {
  const waiting = local.filter((e) => !e.sent && !e.refused);
  const el = $("badge");
  el.classList.toggle("ask", waiting.length > 0 && trouble !== "");
  if (!waiting.length) el.textContent = "all sent";
  else el.textContent = (trouble ? trouble + ": " : "") + waiting.length + " waiting since " + clock(Date.parse(waiting[0].event.at));
  const refused = local.filter((e) => e.refused);
  $("refused").hidden = !refused.length;
  $("refused").querySelector("ul").replaceChildren(...refused.map((e) => { const li = document.createElement("li"); li.textContent = e.event.kind + ": " + e.refused; return li; }));
}

function say(text) {
  $("badge").textContent = text;
  setTimeout(badge, 2500);
}

let sending = false, pause = 1000, timer;

// flush sends what waits, oldest first, and tries again when that fails
async function flush() {
  clearTimeout(timer);
  if (sending) return;
  const waiting = local.filter((e) => !e.sent && !e.refused).slice(0, 200);
  if (!waiting.length) return;
  sending = true;
  try {
    const answer = await fetch("/api/visits/" + visit + "/events", { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify({ events: waiting.map((e) => e.event) }) });
    if (answer.status === 401) throw new Error("sign in again to send");
    if (!answer.ok) throw new Error("the office does not answer");
    await settle((await answer.json()).answers);
    const fresh = await fetch("/api/visits/" + visit, { headers: { Accept: "application/json" } });
    if (fresh.ok) base = await fresh.json();
    trouble = "";
    pause = 1000;
  } catch (e) {
    trouble = e instanceof TypeError ? "no signal" : e.message;
    pause = Math.min(pause * 2, 30000);
  }
  sending = false;
  show();
  if (local.some((e) => !e.sent && !e.refused)) timer = setTimeout(flush, trouble ? pause : 0);
}

// settle notes what became of each event
async function settle(answers) {
  const db = await ready;
  for (const a of answers) {
    const entry = local.find((e) => e.id === a.id);
    if (!entry) continue;
    if (a.result === "refused") entry.refused = a.why || "It could not be read.";
    else entry.sent = true;
    await db.put("events", entry);
  }
}

// signing draws with a finger or a mouse
function signing() {
  const pad = $("pad"), path = pad.querySelector("path"), field = $("drawing");
  pad.hidden = $("clear").hidden = false;
  let down = false;
  const point = (e) => {
    const box = pad.getBoundingClientRect();
    return Math.round(((e.clientX - box.left) / box.width) * 600) + " " + Math.round(((e.clientY - box.top) / box.height) * 200);
  };
  const add = (text) => { field.value = (field.value + " " + text).trim().slice(0, 60000); path.setAttribute("d", field.value); };
  pad.addEventListener("pointerdown", (e) => { down = true; pad.setPointerCapture(e.pointerId); add("M" + point(e)); e.preventDefault(); });
  pad.addEventListener("pointermove", (e) => { if (down) add("L" + point(e)); });
  pad.addEventListener("pointerup", () => { down = false; });
  $("clear").addEventListener("click", () => { field.value = ""; path.setAttribute("d", ""); });
}

let lock;

// stayAwake keeps the screen on while work goes on
async function stayAwake() {
  if (document.hidden || lock || !navigator.wakeLock) return;
  try {
    lock = await navigator.wakeLock.request("screen");
    lock.addEventListener("release", () => { lock = undefined; });
  } catch { lock = undefined; }
}

start();
