// Small helps that every page can do without.
"use strict";

// After a refused form, start at the list of what needs another look.
document.querySelector("[data-focus]")?.focus();

// Asks once more before something that cannot be undone.
document.addEventListener("submit", (event) => {
  const question = event.submitter?.dataset.ask ?? event.target.dataset.ask;
  if (question && !window.confirm(question)) event.preventDefault();
});

document.addEventListener("click", (event) => {
  if (event.target.closest("[data-print]")) window.print();
});

// Fills a yard's position in from the phone in the farmer's hand.
for (const button of document.querySelectorAll("[data-here]")) {
  if (!navigator.geolocation) break;
  button.hidden = false;
  button.addEventListener("click", () => {
    const [lat, lon] = button.dataset.here.split(" ").map((id) => document.getElementById(id));
    navigator.geolocation.getCurrentPosition(
      ({ coords }) => {
        lat.value = coords.latitude.toFixed(5);
        lon.value = coords.longitude.toFixed(5);
        lat.dispatchEvent(new Event("input", { bubbles: true }));
      },
      () => { button.textContent = "The phone does not tell where it is; please type it in"; },
    );
  });
}
