// Sends what waits, whichever visit it belongs to, and says truthfully how
// that goes: all sent, how many wait since when and why, what was refused.
"use strict";

import { open, save } from "./phone-store.js";

const most = 200; // events at once
const patience = 20_000; // milliseconds for an answer
const longest = 60_000; // milliseconds between tries

const listeners = [];
let trouble = ""; // why sending does not work just now
let sending = false;
let again = false; // something was recorded while sending
let tries = 0;
let timer;

// onChange calls back after each round of sending, with the answer of the
// server by visit where there was one.
export function onChange(callback) {
  listeners.push(callback);
}

// standing is what waits and what was refused, with the trouble there is.
export async function standing() {
  const entries = await open();
  return { waiting: entries.filter((e) => !e.refused), refused: entries.filter((e) => e.refused), trouble };
}

// flush sends what waits, oldest first, and tries again later if it cannot.
export async function flush() {
  clearTimeout(timer);
  if (sending) { again = true; return; }
  sending = true;
  const answers = {};
  try {
    do {
      again = false;
      await sendAll(answers);
    } while (again);
    trouble = "";
    tries = 0;
  } catch (e) {
    trouble = e.says || "no signal";
    timer = setTimeout(flush, Math.min(longest, 1000 * 2 ** tries++) * (0.75 + Math.random() / 2));
  }
  sending = false;
  for (const callback of listeners) await callback(answers);
}

async function sendAll(answers) {
  for (;;) {
    const waiting = (await standing()).waiting;
    if (!waiting.length) return;
    const visit = waiting[0].visit;
    answers[visit] = await send(visit, waiting.filter((e) => e.visit === visit).slice(0, most));
  }
}

// send gives one batch to the server and notes what became of each event.
async function send(visit, batch) {
  const response = await fetch("/api/visits/" + visit + "/events", {
    method: "POST",
    headers: { "Content-Type": "application/json", Accept: "application/json" },
    body: JSON.stringify({ events: batch.map((e) => e.event) }),
    signal: AbortSignal.timeout(patience),
  });
  if (response.status === 404) return refuseAll(batch, "This visit is not there any more; ring the office.");
  if (response.status === 401) throw Object.assign(new Error(), { says: "sign in again to send" });
  if (response.status === 403) throw Object.assign(new Error(), { says: "this account may not send" });
  if (response.status >= 500) throw Object.assign(new Error(), { says: "the office does not answer" });
  if (!response.ok) throw Object.assign(new Error(), { says: "the office does not take it (" + response.status + ")" });
  const result = await response.json();
  for (const a of result.answers) {
    const entry = batch.find((e) => e.id === a.id);
    if (!entry) continue;
    if (a.result === "refused") entry.refused = a.why || "It could not be read.";
    else entry.sent = true;
  }
  await save(batch);
  return result;
}

async function refuseAll(batch, why) {
  for (const entry of batch) entry.refused = why;
  await save(batch);
  return undefined;
}

// words are what a badge says.
export function words({ waiting, refused, trouble }, clock) {
  const parts = [];
  if (waiting.length) parts.push((trouble ? trouble + ": " : "") + waiting.length + " waiting since " + clock(Date.parse(waiting[0].event.at)));
  if (refused.length) parts.push(refused.length + " refused: " + refused[0].refused);
  return parts.join(" · ") || "all sent";
}

// keepSending tries whenever there may be signal again.
export function keepSending() {
  addEventListener("online", () => { tries = 0; flush(); });
  document.addEventListener("visibilitychange", () => { if (!document.hidden) flush(); });
  return flush();
}
