// The round on the phone: sends what visits have left waiting, and says so.
"use strict";

import { keepSending, onChange, standing, words } from "./phone-send.js";

const badge = document.getElementById("badge");
const clock = (ms) => new Date(ms).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", hourCycle: "h23" }).replace(/^0(?=\d:)/, "");

async function show() {
  const now = await standing();
  badge.hidden = false;
  badge.textContent = words(now, clock);
  badge.classList.toggle("ask", now.refused.length > 0 || now.trouble !== "");
}

onChange(show);
show();
keepSending();
