// The round on the phone: sends what visits have left waiting, and says so.
"use strict";

import { clockOf } from "./phone-pace.js";
import { keepSending, onChange, standing, words } from "./phone-send.js";

const badge = document.getElementById("badge");

async function show() {
  const now = await standing();
  badge.hidden = false;
  badge.textContent = words(now, clockOf);
  badge.classList.toggle("ask", now.refused.length > 0 || now.trouble !== "");
}

onChange(show);
show();
keepSending();
