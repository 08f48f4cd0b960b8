// Keeps a page of the desk fresh: looks every ten seconds whether it changed, and never takes words away from a hand.
"use strict";
(() => {
  const EVERY_MS = 10000;
  const news = document.getElementById("news");
  let known = null;

  const busy = () => [...document.querySelectorAll("textarea")].some((box) => box.value.trim() !== "");

  async function look() {
    if (document.hidden) return;
    try {
      const answer = await fetch(location.href, { credentials: "same-origin", headers: { Accept: "text/html" } });
      const tag = answer.headers.get("ETag");
      if (!answer.ok || tag === null) return;
      if (known !== null && tag !== known) {
        if (busy()) news.hidden = false;
        else location.reload();
      }
      known = tag;
    } catch {
      // no line just now; the next look tells
    }
  }

  if (document.querySelector(".queue, .talk")) {
    look();
    setInterval(look, EVERY_MS);
  }

  document.addEventListener("keydown", (event) => {
    if (event.target.closest("input, textarea, select") || event.ctrlKey || event.metaKey || event.altKey) return;
    const rows = [...document.querySelectorAll(".queue .who a")];
    const at = rows.indexOf(document.activeElement);
    if (event.key === "j" && rows.length) rows[Math.min(at + 1, rows.length - 1)].focus();
    if (event.key === "k" && rows.length) rows[Math.max(at - 1, 0)].focus();
  });
})();
