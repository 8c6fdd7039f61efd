// The phone's own database of events: what was recorded here, and what became
// of it. An event is safe once record() has returned.
"use strict";

const openEvents = () =>
  globalThis.idb.openDB("drawbar", 1, {
    upgrade(db) {
      db.createObjectStore("events", { keyPath: "id" }).createIndex("visit", "visit");
    },
  });

// A page that is left while it opens the database must not be put aside for
// "back" half-way: every other page would wait for it. Browsers put no page
// aside that holds a lock, so one is held until the database is open.
const opened = navigator.locks ? navigator.locks.request("drawbar-open", openEvents) : openEvents();

// Kept after sending, so that a count can still be taken back.
const daysKept = 30;

// uuid7 makes an id after RFC 9562: 48 bits of time, the rest random.
export function uuid7(now = Date.now()) {
  const b = crypto.getRandomValues(new Uint8Array(16));
  for (let i = 5, t = now; i >= 0; i--, t = Math.floor(t / 256)) b[i] = t % 256;
  b[6] = (b[6] & 0x0f) | 0x70;
  b[8] = (b[8] & 0x3f) | 0x80;
  const hex = [...b].map((x) => x.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

// device names this phone among those on a visit.
function device() {
  let id = localStorage.getItem("drawbar-device");
  if (!id) localStorage.setItem("drawbar-device", (id = uuid7()));
  return id;
}

function next() {
  const seq = Number(localStorage.getItem("drawbar-seq") || 0) + 1;
  localStorage.setItem("drawbar-seq", String(seq));
  return seq;
}

// record makes an event and keeps it on disk.
export async function record(visit, kind, what) {
  const event = { id: uuid7(), visit, device: device(), seq: next(), at: new Date().toISOString(), kind };
  if (what) event.what = what;
  const entry = { id: event.id, visit, event, sent: false };
  await save([entry]);
  return entry;
}

// save writes entries and waits until they are on disk.
export async function save(entries) {
  const change = (await opened).transaction("events", "readwrite", { durability: "strict" });
  await Promise.all([...entries.map((e) => change.store.put(e)), change.done]);
}

const inOrder = (entries) => entries.sort((a, b) => (a.event.at < b.event.at ? -1 : a.event.at > b.event.at ? 1 : a.event.seq - b.event.seq));

// ofVisit are the visit's entries, oldest first.
export async function ofVisit(visit) {
  return inOrder(await (await opened).getAllFromIndex("events", "visit", visit));
}

// open are the entries of every visit that wait to be sent or were refused
// and not put away, oldest first. Old ones that were sent are let go of.
export async function open() {
  const all = inOrder(await (await opened).getAll("events"));
  await drop(all.filter((e) => (e.sent || e.away) && Date.parse(e.event.at) < Date.now() - daysKept * 864e5));
  return all.filter((e) => !e.sent && !e.away);
}

async function drop(entries) {
  if (!entries.length) return;
  const change = (await opened).transaction("events", "readwrite");
  await Promise.all([...entries.map((e) => change.store.delete(e.id)), change.done]);
}
