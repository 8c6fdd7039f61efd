// The visit on the phone. Each press becomes an event that is kept here
// before the screen moves on, and sent when there is signal.
"use strict";

import { ofVisit, record, save, uuid7 } from "./phone-store.js";
import { flush, keepSending, onChange, standing, words } from "./phone-send.js";
import { doubts, fold } from "./phone-docket.js";
import { clockOf, words as paceWords } from "./phone-pace.js";
import { signing } from "./phone-sign.js";

const $ = (id) => document.getElementById(id);

let base = JSON.parse($("state").textContent); // what the server has
let entries = []; // this visit's events of this phone
let shown = ""; // the step on the screen

const clock = (ms) => clockOf(ms, base.zone);

// keep records an event, then shows and sends it.
async function keep(kind, what) {
  adopt([await record(base.visit, kind, what)]);
  await showBadge(); // the badge never lags behind the counts
  show();
  flush();
}

// adopt takes entries in, newer versions in place of older ones.
function adopt(found) {
  const byID = new Map([...entries, ...found].map((e) => [e.id, e]));
  entries = [...byID.values()].sort((a, b) => a.event.seq - b.event.seq);
}

// whatOf is what an event says, read from the form that was sent.
function whatOf(kind, data) {
  const text = (name) => String(data.get(name) || "").trim();
  const number = (name) => Math.round(Number(text(name).replace(",", ".")) || 0);
  switch (kind) {
    case "counted":
      return { mob: text("mob"), services: data.getAll("services"), gate: text("gate"), head: data.has("head") ? number("head") : 1 };
    case "treatment":
      return {
        mob: text("mob"), head: number("head"), animals: text("animals"), product: text("product"), batch: text("batch"), expiry: text("expiry"),
        dose: text("dose").replace(",", "."), unit: text("unit"), route: text("route"), given: text("given"), meatDays: number("meatDays"),
      };
    case "note":
      return { text: text("text") };
    case "incident":
      return number("head") ? { mob: text("mob"), head: number("head"), text: text("text") } : { mob: text("mob"), text: text("text") };
    case "mob added":
      return { mob: uuid7(), class: text("class") };
    case "hands":
      return { people: number("people"), pusher: data.has("pusher") };
    case "signature":
      return { name: text("name"), drawing: text("drawing"), seen: number("seen") };
  }
  return undefined;
}

// complaint says what is missing before an event can be made, "" for nothing.
function complaint(kind, what) {
  if (kind === "counted" && !what.services.length) return "Tick what was done to them first.";
  if (kind === "signature" && !what.name) return "Type the name of whoever signs.";
  if (kind === "treatment" && !(Number(what.dose) > 0)) return "Give the dose a head as a number above 0, such as 7.5.";
  if (kind === "treatment" && !(what.head > 0)) return "Give how many were treated.";
  return "";
}

async function submitted(e) {
  const form = e.target;
  if (!form.action.endsWith("/record")) return;
  e.preventDefault();
  const data = new FormData(form, e.submitter);
  const kind = data.get("kind");
  const what = whatOf(kind, data);
  const wrong = complaint(kind, what);
  if (wrong) return say(wrong);
  say("");
  await keep(kind, what);
  if (["treatment", "note", "incident", "mob added", "hands"].includes(kind)) {
    form.reset();
    form.closest("details").open = false;
    say("Recorded.");
  }
}

function say(sentence) {
  $("says").textContent = sentence;
  $("says").hidden = !sentence;
}

// lastCount is the newest count of this phone that stands.
function lastCount() {
  const struck = new Set(entries.filter((e) => e.event.kind === "struck").map((e) => e.event.what.event));
  return entries.findLast((e) => e.event.kind === "counted" && !struck.has(e.id) && !e.refused);
}

function show() {
  const now = fold(base, entries);
  for (const part of document.querySelectorAll("[data-step]")) part.hidden = !part.dataset.step.split(", ").includes(now.step);
  for (const mob of now.mobs) if (mob.added) addCard(mob);
  $("total").textContent = $("meter").value = $("seen").value = now.total;
  for (const e of document.querySelectorAll("[data-mob]")) e.textContent = now.heads[e.dataset.mob] || 0;
  for (const e of document.querySelectorAll("[data-done]")) e.textContent = now.services[e.dataset.done] || 0;
  for (const e of document.querySelectorAll("[data-gate]")) e.textContent = now.gates[e.dataset.gate] || 0;
  $("undo").hidden = !lastCount();
  $("signed-note").textContent = now.times.signed === "waiting" ? "Signed on this phone; it is sent when there is signal." : "The docket is signed and kept.";
  list($("doubts"), doubts(base, now));
  for (const ul of document.querySelectorAll("[data-given]")) ul.replaceChildren(...now.given.map((t) => item(`${t.product}, batch ${t.batch}: ${t.head} head`)));
  showPace(now);
  showBadge();
  if (shown && shown !== now.step) scrollTo({ top: 0 });
  shown = now.step;
}

const item = (text) => Object.assign(document.createElement("li"), { textContent: text });

// list fills a box of sentences and hides it when there are none.
function list(box, sentences) {
  box.hidden = !sentences.length;
  box.querySelector("ul").replaceChildren(...sentences.map(item));
}

// addCard makes the counting card of a mob that was added here.
function addCard(mob) {
  if (document.querySelector(`[data-card="${mob.id}"]`)) return;
  const card = $("blank").content.cloneNode(true).firstElementChild;
  card.dataset.card = mob.id;
  card.querySelector(".mob-name").textContent = mob.class;
  card.querySelector("[data-mob]").dataset.mob = mob.id;
  card.querySelector("[name=mob]").value = mob.id;
  card.querySelector("form").setAttribute("aria-label", "Count " + mob.class);
  for (const kind of ["done", "gate"]) for (const e of card.querySelectorAll(`[data-${kind}]`)) e.dataset[kind] = mob.id + e.dataset[kind];
  $("cards").append(card);
  card.open = true;
  for (const select of document.querySelectorAll("[data-mobs]")) select.append(new Option(mob.class, mob.id));
}

function showPace(now = fold(base, entries)) {
  const p = paceWords(base, now, Date.now(), clock);
  $("pace").textContent = p.big;
  $("pace-more").textContent = p.more;
}

async function showBadge() {
  const now = await standing();
  $("badge").textContent = words(now, clock);
  $("badge").classList.toggle("ask", now.refused.length > 0 || now.trouble !== "");
  list($("refused"), now.refused.map((e) => e.event.kind + ": " + e.refused));
}

// sent takes in what the server has now.
async function sent(answers) {
  adopt(await ofVisit(base.visit));
  if (base.visit in answers) {
    if (answers[base.visit]?.says) say(answers[base.visit].says);
    const fresh = await fetch("/api/visits/" + base.visit, { headers: { Accept: "application/json" } }).catch(() => undefined);
    if (fresh?.ok) base = await fresh.json();
  }
  show();
}

async function putAway() {
  const { refused } = await standing();
  for (const e of refused) e.away = true;
  await save(refused);
  showBadge();
}

let lock;

// stayAwake keeps the screen on; a phone that does not want to is let be.
async function stayAwake() {
  if (document.hidden || lock || !navigator.wakeLock) return;
  lock = await navigator.wakeLock.request("screen").catch(() => undefined);
  lock?.addEventListener("release", () => { lock = undefined; });
}

async function start() {
  adopt(await ofVisit(base.visit)); // fails where the phone keeps nothing
  navigator.storage?.persist?.();
  document.addEventListener("submit", submitted);
  document.addEventListener("visibilitychange", stayAwake);
  $("strike")?.remove();
  $("away").addEventListener("click", putAway);
  $("undo").addEventListener("click", () => { const last = lastCount(); if (last) keep("struck", { event: last.id }); });
  signing($("pad"), $("drawing"), $("clear"));
  setInterval(showPace, 5000);
  onChange(sent);
  stayAwake();
  show();
  keepSending();
}

// Where the browser keeps nothing, the plain forms go on working.
start().catch(() => { $("badge").textContent = "nothing is kept here: each press is sent at once"; });
