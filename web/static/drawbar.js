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
