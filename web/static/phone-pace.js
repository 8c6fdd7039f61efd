// How the counting goes: pace and finish, worked out on the phone so that it
// needs no signal. The arithmetic is that of Rate.After in package
// booking/pace, and the words are those of live.go in package web/phone; a
// test holds them to each other.
"use strict";

// clockOf is a time of day as pages say it: "8:05", in a zone or the phone's.
export function clockOf(ms, zone) {
  return new Date(ms).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", hourCycle: "h23", timeZone: zone }).replace(/^0(?=\d:)/, "");
}

const headSpread = 0.35; // from one head to the next
const z90 = 1.2815515655446004;
const breaks = [10, 30, 10, 0]; // minutes after the first, second, third, fourth run
const run = 120, grace = 30, runs = 160;
const grain = 5; // minutes; an estimate is no better

// worked is the seconds of work without pauses, until now where it goes on.
export function worked(spans, now) {
  return spans.reduce((sum, s) => sum + Math.max(0, (s.to ? Date.parse(s.to) : now) - Date.parse(s.from)), 0) / 1000;
}

// weighed are the head counted and all head of this visit, each weighed by
// the time it takes.
export function weighed(base, now) {
  const weight = new Map(base.mobs.map((m) => [m.id, m.weight]));
  let counted = 0, left = 0, lost = 0;
  for (const m of now.mobs) {
    const w = weight.get(m.id) || 1, done = now.heads[m.id] || 0, gone = now.lost[m.id] || 0;
    counted += w * done;
    left += w * Math.max(0, m.booked - done - gone);
    lost += gone;
  }
  if (base.parts > 1) return { counted, all: Math.max(base.head - lost, counted) };
  return { counted, all: counted + left };
}

function breaksIn(minutes) {
  let sum = 0;
  for (let i = 0; i < runs; i++) {
    const due = run * (i + 1);
    if (minutes <= due) break;
    sum += breaks[i % 4] * Math.min((minutes - due) / grace, 1);
  }
  return sum;
}

// after is the pace, and the seconds until the work is done: as likely as
// not, and nine times of ten, with the breaks that fall due meanwhile.
export function after(rate, counted, all, seconds) {
  const work = Math.max(0, seconds);
  const alpha = rate.alpha + Math.max(0, counted), beta = rate.beta + work / 3600;
  const live = { perHour: alpha / beta, done: 0, late: 0 };
  const left = all - counted;
  if (left <= 0) return live;
  const spread = Math.sqrt(1 / alpha + (headSpread * headSpread) / left);
  const median = (left / live.perHour) * 3600;
  const withBreaks = (s) => s + Math.round(60 * (breaksIn((work + s) / 60) - breaksIn(work / 60)));
  live.done = withBreaks(Math.round(median));
  live.late = withBreaks(Math.round(median * Math.exp(z90 * spread)));
  return live;
}

// words say how it goes. clock writes an instant in milliseconds.
export function words(base, now, at, clock) {
  if (!base.rate.beta) return { big: "", more: "" };
  const { counted, all } = weighed(base, now);
  const live = after(base.rate, counted, all, worked(now.times.spans, at));
  const speed = Math.round(live.perHour * (counted > 0 ? now.total / counted : 1)) + " head an hour";
  if (all <= counted) return { big: "All counted", more: speed };
  const couldBe = (about, could, say) => (could > about ? `could be ${say(could)} · ` : "") + speed;
  if (now.step === "pause") {
    const about = Math.max(Math.round(live.done / 60 / grain), 1) * grain, could = Math.ceil(live.late / 60 / grain) * grain;
    return { big: `About ${length(about)} left`, more: couldBe(about, could, length) };
  }
  const ms = grain * 60_000;
  const about = Math.round((at + live.done * 1000) / ms) * ms, could = Math.ceil((at + live.late * 1000) / ms) * ms;
  return { big: "Done about " + clock(about), more: couldBe(about, could, clock) };
}

// length of so many minutes: "45 min", "3 h", "3 h 10".
function length(minutes) {
  const hours = Math.floor(minutes / 60), rest = minutes % 60;
  if (!hours) return rest + " min";
  return hours + " h" + (rest ? " " + String(rest).padStart(2, "0") : "");
}
