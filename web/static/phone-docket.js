// What a visit stands at: the server's docket and the events of this phone
// that are not in it yet. An event is never counted twice, because the server
// names those it has.
"use strict";

// fold adds the entries of this phone to the server's state of the visit.
export function fold(base, entries) {
  const known = new Set(base.known || []);
  const standing = entries.filter((e) => !e.refused);
  const missing = standing.filter((e) => !known.has(e.id)).map((e) => e.event);
  const here = new Map(standing.map((e) => [e.id, e.event]));
  const gone = new Set(missing.filter((e) => e.kind === "struck").map((e) => e.what.event));
  const events = missing.filter((e) => !gone.has(e.id));
  const taken = [...gone].filter((id) => known.has(id) && here.has(id)).map((id) => here.get(id));
  const counted = counts(base, events, taken);
  const all = { missing, mobs: mobsOf(base, events), ...counted, times: times(base, events) };
  all.heads = heads(all.services);
  all.total = Object.values(all.heads).reduce((a, b) => a + b, 0);
  all.lost = lost(base, events);
  all.given = [...(base.docket.treatments || []), ...events.filter((e) => e.kind === "treatment").map((e) => e.what)];
  all.step = step(all.times);
  return all;
}

// mobsOf are the server's mobs and those added here.
function mobsOf(base, events) {
  const mobs = base.mobs.map((m) => ({ id: m.id, class: m.class, booked: m.booked, services: m.services }));
  for (const e of events) {
    if (e.kind === "mob added" && !mobs.some((m) => m.id === e.what.mob)) mobs.push({ id: e.what.mob, class: e.what.class + "s", booked: 0, services: [], added: true });
  }
  return mobs;
}

// counts are head by "mob service" and by "mob gate". Totals are added up
// cell by cell and none passes below zero, as on the server.
function counts(base, events, taken) {
  const cells = {};
  const add = (mob, service, gate, head) => {
    const key = [mob, service, gate || ""].join(" ");
    cells[key] = (cells[key] || 0) + head;
  };
  for (const t of base.docket.tallies || []) add(t.mob, t.service, t.gate, t.head);
  for (const t of base.docket.below || []) add(t.mob, t.service, t.gate, t.head);
  const count = (e, sign) => { if (e.kind === "counted") for (const s of e.what.services) add(e.what.mob, s, e.what.gate, sign * e.what.head); };
  for (const e of events) count(e, 1);
  for (const e of taken) count(e, -1);
  const services = {}, gates = {};
  for (const [key, head] of Object.entries(cells)) {
    const [mob, service, ...gate] = key.split(" ");
    const at = mob + " " + gate.join(" ");
    services[mob + " " + service] = (services[mob + " " + service] || 0) + Math.max(0, head);
    gates[at] = Math.max(gates[at] || 0, head);
  }
  return { services, gates };
}

// heads are the animals worked of each mob: those of the service done to most.
function heads(services) {
  const byMob = {};
  for (const [key, head] of Object.entries(services)) {
    const mob = key.split(" ")[0];
    byMob[mob] = Math.max(byMob[mob] || 0, head);
  }
  return byMob;
}

// times are the milestones and the spans of work.
function times(base, events) {
  const d = base.docket;
  const t = { arrived: d.arrived, setUp: d.setUp, started: d.started, finished: d.finished, packed: d.packed, left: d.left, signed: base.signed, spans: (d.work || []).map((s) => ({ ...s })) };
  for (const e of events) {
    const last = t.spans.at(-1);
    const running = last && !last.to;
    switch (e.kind) {
      case "arrived": t.arrived ||= e.at; break;
      case "set up": t.setUp ||= e.at; break;
      case "started": case "resumed":
        if (e.kind === "started") t.started ||= e.at;
        if (!running) t.spans.push({ from: e.at });
        t.finished = "";
        break;
      case "paused": case "finished":
        if (running) last.to = e.at;
        if (e.kind === "finished") t.finished = e.at;
        break;
      case "packed": t.packed = e.at; break;
      case "left": t.left = e.at; break;
      case "signature": t.signed ||= "waiting"; break;
    }
  }
  return t;
}

function step(t) {
  const last = t.spans.at(-1);
  if (t.signed) return t.left ? "gone" : "pack";
  if (!t.arrived && !t.started) return "arrive";
  if (!t.setUp && !t.started) return "set up";
  if (!t.started) return "start";
  if (last && !last.to) return "work";
  return t.finished ? "sign" : "pause";
}

// lost is the head by mob that incidents took out of the count.
function lost(base, events) {
  const byMob = {};
  const all = [...(base.docket.incidents || []), ...events.filter((e) => e.kind === "incident").map((e) => e.what)];
  for (const i of all) if (i.mob) byMob[i.mob] = (byMob[i.mob] || 0) + (i.head || 0);
  return byMob;
}

// doubts are what does not add up: the server's sentences, or, while events
// are not there yet, this phone's own over the counts.
export function doubts(base, now) {
  if (!now.missing.length) return base.doubts || [];
  if (!now.total) return ["Nothing has been counted."];
  const says = [];
  const balance = (what, booked, worked, lost) => {
    const short = booked - worked - lost;
    if (!booked || !short) return;
    const out = `${booked} ${what} booked, ${worked} worked${lost ? `, ${lost} lost to the count by an incident` : ""}`;
    says.push(short > 0 ? `${out}: ${short} not accounted for.` : `${out}: ${-short} more than booked.`);
  };
  if (base.parts > 1) balance("head for this visit", base.head, now.total, Object.values(now.lost).reduce((a, b) => a + b, 0));
  for (const m of now.mobs) {
    const worked = now.heads[m.id] || 0;
    if (base.parts <= 1) balance(m.class, m.booked, worked, now.lost[m.id] || 0);
    for (const s of m.services) {
      const done = now.services[m.id + " " + s.code] || 0;
      if (worked && done !== worked) says.push(`${s.name} was done to ${done} of the ${worked} ${m.class}.`);
    }
  }
  return says;
}
