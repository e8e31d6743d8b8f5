// Before the terminal is made: letters small enough that a phone upright shows 45 columns.
"use strict";
document.addEventListener("DOMContentLoaded", () => {
  const terminal = document.getElementById("terminal");
  const widest = Math.floor(window.innerWidth / 45 / 0.602);
  terminal.dataset.fontSize = String(Math.max(10, Math.min(18, widest)));
  document.getElementById("again").addEventListener("click", () => window.location.reload());
});
