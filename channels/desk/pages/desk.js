// Keeps a page of the desk fresh without loading it again, and lets it be worked by keys; takes no words from a hand.
"use strict";
(() => {
  const EVERY_MS = 10000;
  const news = document.getElementById("news");
  let known = null;
  let latest = null;

  // -- fresh: what is marked `data-live` is put in place of what stands there; a hand in it is not disturbed

  const isBusy = (part) => {
    if (part.contains(document.activeElement) && document.activeElement.matches("input, textarea, select")) return true;
    return [...part.querySelectorAll("textarea, input[type=text], details[open]")].some((one) => one.open || one.value?.trim());
  };

  function putIn(fresh) {
    let waits = false;
    const before = document.querySelector("input[name=seen]")?.value ?? null;
    latest = fresh.querySelector("input[name=seen]")?.value ?? latest;
    for (const part of document.querySelectorAll("[data-live]")) {
      const now = fresh.getElementById(part.id);
      if (now === null) continue;
      if (now.innerHTML === part.innerHTML) continue;
      if (isBusy(part)) {
        waits = true;
        continue;
      }
      const place = [...part.querySelectorAll("a, button")].indexOf(document.activeElement);
      const href = document.activeElement?.getAttribute?.("href");
      part.replaceChildren(...now.childNodes);
      if (place >= 0) (href ? part.querySelector(`a[href="${CSS.escape(href)}"]`) : null)?.focus();
    }
    const writes = [...document.querySelectorAll("textarea")].some((box) => box.value.trim() !== "");
    setSeen(waits || writes ? (before ?? latest) : latest);
    document.title = fresh.title;
    news.hidden = !waits && !(writes && before !== null && before !== latest);
  }

  // who is in the middle of a sentence may not have looked up: their text stops until they say that they have read
  function setSeen(value) {
    if (value === null) return;
    for (const field of document.querySelectorAll("input[name=seen]")) field.value = value;
  }
  news?.querySelector("button")?.addEventListener("click", () => {
    setSeen(latest);
    news.hidden = true;
  });

  // a request that parses for itself: text that becomes markup by script is forbidden on these pages
  function look() {
    if (document.hidden) return;
    const request = new XMLHttpRequest();
    request.open("GET", location.href);
    request.responseType = "document";
    if (known !== null) request.setRequestHeader("If-None-Match", known);
    request.addEventListener("load", () => {
      const fresh = request.responseXML;
      if (request.status !== 200 || fresh === null || request.responseURL.includes("/sign-in")) return;
      known = request.getResponseHeader("ETag");
      putIn(fresh);
    });
    request.send();
  }

  if (document.querySelector("[data-live]")) {
    look();
    setInterval(look, EVERY_MS);
    document.addEventListener("visibilitychange", look);
  }

  // -- keys: single ones can be turned off (WCAG 2.1.4)

  const on = document.getElementById("keys-on");
  if (on !== null) {
    on.checked = localStorage.getItem("desk-keys") !== "off";
    on.addEventListener("change", () => localStorage.setItem("desk-keys", on.checked ? "on" : "off"));
  }
  const PLACES = { n: "s-next", t: "talk", c: "s-close" };

  function go(key) {
    const there = document.querySelector(`[data-key="${key}"]`);
    if (there?.matches("input")) return there.focus(), true;
    if (there) return there.click(), true;
    const heading = document.getElementById(PLACES[key] ?? "");
    if (!heading) return false;
    heading.tabIndex = -1;
    heading.focus();
    heading.scrollIntoView();
    return true;
  }

  function move(by) {
    const rows = [...document.querySelectorAll(".queue .who a")];
    if (!rows.length) return false;
    const at = rows.indexOf(document.activeElement);
    rows[Math.min(Math.max(at + by, 0), rows.length - 1)].focus();
    return true;
  }

  document.addEventListener("keydown", (event) => {
    if (event.target.closest("input, textarea, select, summary") || event.ctrlKey || event.metaKey || event.altKey) return;
    if (on === null || !on.checked) return;
    const inQueue = event.target === document.body || event.target.closest(".queue");
    const arrow = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    const done = arrow !== undefined ? inQueue && move(arrow) : go(event.key);
    if (done) event.preventDefault();
  });
})();
