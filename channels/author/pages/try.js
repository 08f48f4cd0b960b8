"use strict";

/** What the page looks at this often to see whether somebody saved. */
const LOOK_EVERY_MS = 1000;
const at = (id) => document.getElementById(id);
let shown = "";

/** An element with words in it; never markup. */
function made(name, words, kind) {
  const one = document.createElement(name);
  if (words !== undefined) one.textContent = words;
  if (kind) one.className = kind;
  return one;
}

function row(...cells) {
  const one = document.createElement("tr");
  one.append(...cells);
  return one;
}

function named(words, id) {
  const cell = made("td", words);
  cell.append(made("small", id));
  return cell;
}

async function play() {
  const messages = at("messages").value.split("\n").map((line) => line.trim()).filter(Boolean);
  const language = at("language").value || null;
  const answer = await fetch("played", {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify({ messages, language }),
  });
  const told = await answer.json();
  if (!answer.ok) {
    at("standing").textContent = `${told.title}: ${told.detail}`;
    return;
  }
  shown = told.edition;
  show(told);
}

function show(told) {
  const faults = told.problems.length;
  at("standing").textContent = faults
    ? `what is saved does not load (${faults} faults); the last sound edition speaks`
    : `edition ${told.edition}, case ${told.state}, ${told.entropy_bits} bit left to learn`;
  at("problems").replaceChildren(...told.problems.map(fault));
  at("turns").replaceChildren(...(told.turns ?? []).map(turn));
  at("believed").replaceChildren(
    ...(told.believed ?? []).map((one) => row(named(one.words, one.id), made("td", percent(one.share), "number"))),
    row(made("td", "something else"), made("td", percent(told.something_else ?? 0), "number")),
  );
  at("why").replaceChildren(
    ...(told.why ?? []).map((one) => row(made("td", `${one.about}: ${one.state}`), made("td", signed(one.bits), "number"))),
  );
  at("next").replaceChildren(
    ...(told.next ?? []).map((one) =>
      row(named(one.words, one.id), made("td", one.gain_bits.toFixed(3), "number"), made("td", String(one.minutes), "number"),
        made("td", one.apart.join("; ")))),
  );
}

function fault(problem) {
  const item = made("li");
  const where = problem.line === null ? problem.path : `${problem.path}:${problem.line}:${problem.column}`;
  item.append(made("strong", `${where}: ${problem.what}`), made("div", problem.why), made("div", `mend: ${problem.mend}`));
  return item;
}

function turn(one) {
  const item = made("li");
  item.append(made("pre", one.read), ...one.said.map((words) => made("p", words, "said")));
  return item;
}

const percent = (share) => `${(100 * share).toFixed(1)} %`;
const signed = (bits) => (bits > 0 ? "+" : "") + bits.toFixed(2);

async function look() {
  try {
    const { edition } = await (await fetch("edition")).json();
    if (edition !== shown) await play();
  } catch {
    at("standing").textContent = "the bench does not answer: start `helpline kb try` again";
  }
  setTimeout(look, LOOK_EVERY_MS);
}

at("typed").addEventListener("submit", (event) => {
  event.preventDefault();
  play();
});
at("language").addEventListener("change", play);
play().finally(look);
