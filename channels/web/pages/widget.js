/* <cold-room-chat api="/api" lang="es">what a phone without script gets</cold-room-chat>
 *
 * A slip of paper inside the page that grows with the talk. Attributes in: `api`, `lang` (en, es), `room` (a name for
 * the stub). Events out, bubbling: `cold-room-state` with { state }. Kept in the browser: the case and its key, what is
 * being typed, and what has not been sent yet; never the conversation. Styles come from widget.css beside this file.
 */
"use strict";
(() => {
  const styles = new URL("widget.css", document.currentScript.src).href;
  const SOON = 3000, SELDOM = 30000, RECENT = 10 * 60000;           // polling: while somebody is there, else
  const PATIENCE = 15000, FIRST_WAIT = 1000, LONGEST_WAIT = 60000;  // one request; between tries
  const KEPT_MOST = 50, KEPT_FOR = 7 * 24 * 3600000;                // unsent messages
  const LONGEST = 10000;                                            // characters a message, as the API has it
  const WORDS = {
    en: {
      slip: "Cold room helpline", room: "Your cold room", target: "target", last: "last reading",
      intro: "Say in your own words what the room is doing. Short is fine.", log: "The talk so far",
      customer: "You", assistant: "Assistant", staff: "Our desk", write: "Write here", send: "Send", person: "A person, please",
      personText: "PERSON", other: "Español", otherLang: "es", choices: "Tap an answer, or write your own",
      sending: "On its way", waits: "Waits for signal. It is kept here and goes out by itself.", sent: "Sent",
      refused: "Not taken: ", edit: "Edit it", again: "Try now", below: "New words below", fresh: "Start a new slip",
      letters: "Letters", numbers: "Numbers", empty: "Write a few words first.",
      long: "That is too long for one message. Send it in parts.",
      along: "Take it to my phone", code: "From your phone, text {code} to {number} within ten minutes.", noLine: "There is no telephone line here just now.",
      back: "I have a code from my phone", open: "Open", wrong: "That code is wrong or no longer good. Text PAGE for a new one.",
      lost: "The earlier slip is no longer known here, so this starts a new one.",
      danger: "Danger. Do this first:", states: {
        asking: "Finding the cause", fixing: "A fix is under way", waiting: "Waiting to look again",
        with_person: "A person has your case", danger: "Danger: all repair has stopped", closed: "Closed" },
    },
    es: {
      slip: "Ayuda para cuartos fríos", room: "Su cuarto frío", target: "meta", last: "última lectura",
      intro: "Cuente con sus palabras qué le pasa al cuarto. Puede ser corto.", log: "Lo que llevamos",
      customer: "Usted", assistant: "Asistente", staff: "Nuestro equipo", write: "Escriba aquí", send: "Enviar",
      person: "Una persona, por favor", personText: "PERSONA", other: "English", otherLang: "en",
      choices: "Toque una respuesta o escriba la suya",
      sending: "En camino", waits: "Espera señal. Queda guardado aquí y sale solo.", sent: "Enviado",
      refused: "No se aceptó: ", edit: "Corregirlo", again: "Probar ahora", below: "Hay palabras nuevas abajo",
      fresh: "Empezar una hoja nueva", letters: "Letras", numbers: "Números", empty: "Escriba primero unas palabras.",
      long: "Es demasiado largo para un solo mensaje. Mándelo en partes.",
      along: "Llevarlo a mi teléfono", code: "Desde su teléfono mande {code} al {number} antes de diez minutos.", noLine: "Aquí no hay línea de teléfono por ahora.",
      back: "Tengo un código de mi teléfono", open: "Abrir", wrong: "Ese código no es correcto o ya no vale. Mande PÁGINA y le llega otro.",
      lost: "La hoja anterior ya no existe aquí; esta es nueva.",
      danger: "Peligro. Haga esto primero:", states: {
        asking: "Buscando la causa", fixing: "Un arreglo está en marcha", waiting: "Esperando para revisar otra vez",
        with_person: "Una persona tiene su caso", danger: "Peligro: se detuvo toda reparación", closed: "Cerrado" },
    },
  };
  const ASKS_NUMBER = /\b(just|send|which|what) (the |your )?(number|temperature)|how many degrees|\b(n[uú]mero|cu[aá]ntos grados)\b/i;
  const EMERGENCY = /\b(911|112)\b/;

  const make = (name, attributes = {}, ...inside) => {
    const element = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) {
      if (value === true) element.setAttribute(key, "");
      else if (value !== false && value != null) element.setAttribute(key, value);
    }
    element.append(...inside);
    return element;
  };
  const newId = () => Array.from(crypto.getRandomValues(new Uint8Array(18)), (b) => b.toString(16).padStart(2, "0")).join("");
  const language = (tag) => ((tag || "").toLowerCase().startsWith("es") ? "es" : "en");

  class ColdRoomChat extends HTMLElement {
    static observedAttributes = ["lang"];
    #kept = null;            // what outlives a reload
    #words = WORDS.en;
    #entries = new Map();    // client id -> the line of a message not yet seen from the server
    #seen = new Set();       // server ids shown
    #after = 0;              // all up to here has come
    #etag = null;
    #state = null;
    #tries = 0;
    #busy = false;
    #timers = {};
    #lastWord = 0;

    connectedCallback() {
      this.#left = new AbortController();
      if (!this.shadowRoot) this.#build();
      this.#kept = this.#recall();
      this.#speak(this.#kept.lang || language(this.getAttribute("lang") || document.documentElement.lang || navigator.language));
      this.#field.value = this.#kept.draft;
      this.#grow();
      for (const message of this.#kept.waiting) if (!this.#entries.has(message.id)) this.#showOwn(message);
      const on = (target, name, what) => target.addEventListener(name, what, { signal: this.#left.signal });
      on(window, "online", () => this.#atOnce());
      on(document, "visibilitychange", () => { if (!document.hidden) this.#atOnce(); });
      on(window, "focus", () => this.#atOnce());
      this.#atOnce();
    }
    disconnectedCallback() {
      this.#left.abort();
      for (const timer of Object.values(this.#timers)) clearTimeout(timer);
    }
    attributeChangedCallback(name, before, now) {
      if (this.#kept && before !== now) { this.#kept.lang = language(now); this.#keep(); this.#speak(this.#kept.lang); }
    }
    #left = null;

    // the slip
    #build() {
      const root = this.attachShadow({ mode: "open" });
      const sheet = make("link", { rel: "stylesheet", href: styles });
      this.#slip = make("section", { class: "slip", part: "slip" });
      this.#slip.hidden = true;                               // no flash of bare markup; shown with or without styles
      for (const outcome of ["load", "error"]) sheet.addEventListener(outcome, () => { this.#slip.hidden = false; });
      this.#title = make("h2", { class: "room" });
      this.#facts = make("dl", { class: "facts" });
      this.#stateLine = make("p", { class: "state", role: "status" });
      this.#tongue = make("button", { type: "button", class: "quiet" });
      this.#tongue.addEventListener("click", () => this.#switchTongue());
      const stub = make("header", { class: "stub" }, make("div", { class: "name" }, this.#title, this.#tongue), this.#facts, this.#stateLine);
      this.#intro = make("p", { class: "intro" });
      this.#log = make("ol", { class: "log" });                // the log is its frame: with that role a list is none
      this.#frame = make("div", { role: "log" }, this.#log);
      this.#options = make("fieldset", { class: "choices", hidden: true });
      this.#alert = make("p", { class: "alert", role: "alert", id: "alert" });
      this.#field = make("textarea", { id: "words", rows: "2", enterkeyhint: "send", autocomplete: "off", "aria-describedby": "alert" });
      this.#label = make("label", { for: "words" });
      this.#sendButton = make("button", { type: "submit", class: "main" });
      this.#personButton = make("button", { type: "button" });
      this.#keyboard = make("button", { type: "button", class: "quiet", hidden: true });
      this.#freshButton = make("button", { type: "button", hidden: true });
      this.#form = make("form", { class: "write", novalidate: true }, make("div", { class: "labelled" }, this.#label, this.#keyboard),
        this.#field, this.#alert, make("div", { class: "buttons" }, this.#sendButton, this.#personButton, this.#freshButton));
      this.#belowButton = make("button", { type: "button", class: "below", hidden: true });
      this.#along = make("button", { type: "button", class: "quiet", hidden: true });
      this.#along.addEventListener("click", () => this.#takeAlong());
      this.#shown = make("p", { role: "status" });
      this.#codeHead = make("summary");
      this.#codeField = make("input", { inputmode: "numeric", autocomplete: "one-time-code", maxlength: "12", id: "code" });
      this.#codeLabel = make("label", { for: "code" });
      this.#codeButton = make("button", { type: "submit" });
      const codeForm = make("form", {}, this.#codeLabel, this.#codeField, this.#codeButton);
      codeForm.addEventListener("submit", (event) => { event.preventDefault(); this.#openByCode(this.#codeField.value); });
      this.#back = make("details", {}, this.#codeHead, codeForm);
      const carry = make("div", { class: "carry" }, this.#along, this.#back, this.#shown);
      this.#slip.append(stub, this.#intro, this.#frame, this.#options, this.#form, carry, this.#belowButton);
      this.#form.addEventListener("submit", (event) => { event.preventDefault(); this.#submit(this.#field.value); });
      this.#field.addEventListener("keydown", (event) => {
        if (event.key === "Enter" && !event.shiftKey && !event.isComposing) { event.preventDefault(); this.#submit(this.#field.value); }
      });
      this.#field.addEventListener("input", () => { this.#kept.draft = this.#field.value; this.#keep(); this.#alert.textContent = ""; this.#grow(); });
      this.#personButton.addEventListener("click", () => this.#say(this.#words.personText));
      this.#freshButton.addEventListener("click", () => { this.#forget(); this.#field.focus(); });
      this.#keyboard.addEventListener("click", () => this.#setKeyboard(this.#field.inputMode === "decimal" ? "text" : "decimal"));
      this.#belowButton.addEventListener("click", () => { this.#belowButton.hidden = true; this.#form.scrollIntoView({ block: "end" }); this.#field.focus({ preventScroll: true }); });
      root.append(sheet, this.#slip);
    }
    #slip; #title; #facts; #stateLine; #tongue; #intro; #log; #frame; #options; #alert; #field; #label; #form;
    #sendButton; #personButton; #freshButton; #keyboard; #belowButton; #along; #shown; #back; #codeHead; #codeField; #codeLabel; #codeButton; #room = null; #asked = null;

    #speak(lang) {
      const words = (this.#words = WORDS[lang]);
      this.#slip.lang = lang;
      this.#slip.setAttribute("aria-label", words.slip);
      this.#tongue.textContent = words.other;
      this.#tongue.lang = words.otherLang;
      this.#intro.textContent = words.intro;
      this.#frame.setAttribute("aria-label", words.log);
      this.#label.textContent = words.write;
      this.#sendButton.textContent = words.send;
      this.#personButton.textContent = words.person;
      this.#freshButton.textContent = words.fresh;
      this.#belowButton.textContent = words.below;
      this.#along.textContent = words.along;
      this.#codeHead.textContent = this.#codeLabel.textContent = words.back;
      this.#codeButton.textContent = words.open;
      for (const who of this.#log.querySelectorAll(".who")) who.textContent = words[who.dataset.from];
      for (const head of this.#log.querySelectorAll(".warning")) head.textContent = words.danger;
      for (const [id, line] of this.#entries) this.#mark(id, line.dataset.sending);
      this.#setKeyboard(this.#field.inputMode);
      this.#showStub();
      this.#showState();
      this.#showChoices();
    }
    #switchTongue() {
      this.#kept.lang = this.#words.otherLang;
      this.#keep();
      this.#speak(this.#kept.lang);
    }
    #showStub() {
      const room = this.#room || {};
      this.#title.textContent = room.name || this.getAttribute("room") || this.#words.room;
      this.#facts.replaceChildren();
      for (const key of ["target", "last"]) {
        if (room[key]) this.#facts.append(make("div", {}, make("dt", {}, this.#words[key]), make("dd", {}, room[key])));
      }
    }
    #showState() {
      this.#stateLine.textContent = this.#state ? this.#words.states[this.#state] : this.#words.slip;
      this.#slip.dataset.state = this.#state || "new";
      this.#intro.hidden = this.#log.childElementCount > 0;
      this.#freshButton.hidden = this.#state !== "closed";
      this.#along.hidden = !this.#state || this.#state === "closed";
      this.#back.hidden = Boolean(this.#state);
    }
    #setState(state) {
      if (!state || state === this.#state) return;
      this.#state = state;
      this.#showState();
      this.dispatchEvent(new CustomEvent("cold-room-state", { bubbles: true, composed: true, detail: { state } }));
    }
    #setKeyboard(kind) {
      this.#field.inputMode = kind || "text";
      this.#keyboard.textContent = kind === "decimal" ? this.#words.letters : this.#words.numbers;
    }
    #grow() {
      this.#field.style.height = "auto";
      this.#field.style.height = `${Math.min(this.#field.scrollHeight + 2, 240)}px`;
    }

    // lines
    #line(from, text, at) {
      const who = make("span", { class: "who" }, this.#words[from]);
      who.dataset.from = from;
      const head = make("p", { class: "head" }, who);
      if (at) {
        const hour = new Date(at).toLocaleTimeString(this.#words === WORDS.es ? "es" : "en-US", { hour: "numeric", minute: "2-digit" });
        head.append(" ", make("time", { datetime: at }, hour));
      }
      const line = make("li", { class: from }, head, this.#spoken(from, text));
      line.dataset.text = text;
      return line;
    }
    #spoken(from, text) {
      const words = make("p", { class: "words", dir: "auto" });
      if (from === "customer") { words.textContent = text; return words; }
      for (const piece of text.split(EMERGENCY)) {                          // a number that saves lives can be tapped
        words.append(EMERGENCY.test(piece) ? make("a", { href: `tel:${piece}` }, piece) : piece);
      }
      return words;
    }
    #showOwn(message) {
      const line = this.#line("customer", message.text);
      line.append(make("span", { class: "sending" }));
      this.#entries.set(message.id, line);
      this.#log.append(line);
      this.#mark(message.id, message.refused ? "refused" : "waits", message.refused);
      this.#showState();
      this.#showChoices();
    }
    #mark(id, how, detail) {
      const line = this.#entries.get(id);
      if (!line) return;
      line.dataset.sending = how;
      const status = line.querySelector(".sending");
      (how === "sent" ? line.firstChild : line).append(status);
      status.textContent = how === "refused" ? this.#words.refused + (detail || line.dataset.detail || "") : this.#words[how];
      if (detail) line.dataset.detail = detail;
      if (how === "refused") status.append(" ", this.#button(this.#words.edit, () => this.#takeBack(id)));
      if (how === "waits" && this.#tries > 1) status.append(" ", this.#button(this.#words.again, () => this.#atOnce()));
    }
    #button(text, what) {
      const button = make("button", { type: "button" }, text);
      button.addEventListener("click", what);
      return button;
    }
    #takeBack(id) {
      const message = this.#kept.waiting.find((waiting) => waiting.id === id);
      this.#drop(id);
      this.#entries.get(id).remove();
      this.#entries.delete(id);
      this.#field.value = [message.text, this.#field.value].filter(Boolean).join("\n");
      this.#kept.draft = this.#field.value;
      this.#keep();
      this.#grow();
      this.#showState();
      this.#showChoices();
      this.#field.focus();
    }
    #take(answer, history = false) {
      const near = this.#nearEnd();
      if (history) this.#frame.setAttribute("aria-busy", "true");              // an old talk is not read out line by line
      const fresh = answer.messages.filter((message) => !this.#seen.has(message.id));
      for (const message of fresh) this.#place(message);
      if (answer.room !== undefined) { this.#room = answer.room; this.#showStub(); }
      this.#setState(answer.state);
      this.#markDanger();
      this.#showState();
      this.#showChoices();
      if (history) requestAnimationFrame(() => this.#frame.removeAttribute("aria-busy"));
      if (fresh.length) this.#lastWord = Date.now();
      if (fresh.some((message) => message.from !== "customer")) this.#comeIntoView(near);
    }
    #place(message) {
      this.#seen.add(message.id);
      if (message.from === "customer") {
        for (const [id, line] of this.#entries) {
          if (line.dataset.sending === "sent" && line.dataset.text === message.text) {
            line.dataset.id = message.id;
            this.#entries.delete(id);
            return;
          }
        }
      }
      const line = this.#line(message.from, message.text, message.at);
      line.dataset.id = message.id;
      line.choices = message.options || [];
      const later = [...this.#log.children].find((other) =>
        other.dataset.id ? Number(other.dataset.id) > message.id : other.dataset.sending !== "sent");
      this.#log.insertBefore(line, later || null);
    }
    #markDanger() {
      if (this.#state !== "danger") return;
      const lines = [...this.#log.children];
      let asked = lines.length - 1;
      while (asked >= 0 && lines[asked].className !== "customer") asked--;
      for (const line of lines.slice(asked + 1)) {
        if (line.classList.contains("danger") || line.classList.contains("customer")) continue;
        line.classList.add("danger");
        if (line === lines[asked + 1]) line.prepend(make("p", { class: "warning" }, this.#words.danger));
      }
    }
    #showChoices() {
      const last = this.#log.lastElementChild;
      const choices = (last && last.choices) || [];
      const asked = choices.length ? last : null;
      if (asked !== this.#asked || !asked || this.#options.firstElementChild.textContent !== this.#words.choices) {
        this.#options.replaceChildren(make("legend", {}, this.#words.choices));
        choices.forEach((choice, index) => {
          const button = this.#button("", () => { this.#say(choice.text); this.#field.focus({ preventScroll: true }); });
          button.append(make("span", { class: "number" }, String(index + 1)), " ", choice.text);
          this.#options.append(button);
        });
        this.#asked = asked;
      }
      this.#options.hidden = !choices.length;
      const ours = last && !last.classList.contains("customer");
      const wantsNumber = Boolean(ours && !choices.length && ASKS_NUMBER.test(last.dataset.text));
      if (this.#keyboard.hidden === wantsNumber) { this.#keyboard.hidden = !wantsNumber; this.#setKeyboard(wantsNumber ? "decimal" : "text"); }
    }
    #nearEnd() {
      return this.#form.getBoundingClientRect().top < window.innerHeight + 80;
    }
    #comeIntoView(near) {
      if (near) this.#form.scrollIntoView({ block: "nearest" });
      else this.#belowButton.hidden = false;
      if (near) this.#belowButton.hidden = true;
    }

    // sending
    #submit(text) {
      const words = text.trim();
      this.#alert.textContent = !words ? this.#words.empty : words.length > LONGEST ? this.#words.long : "";
      if (this.#alert.textContent) return;
      this.#field.value = this.#kept.draft = "";
      this.#grow();
      this.#say(words);
    }
    #say(text) {
      const message = { id: newId(), text, at: Date.now() };
      this.#kept.waiting.push(message);
      this.#keep();
      this.#showOwn(message);
      this.#lastWord = Date.now();
      this.#comeIntoView(true);
      this.#tries = 0;
      this.#sendWaiting();
    }
    async #sendWaiting() {
      const message = this.#kept.waiting.find((waiting) => !waiting.refused);
      if (this.#busy || !message || !this.isConnected) return;
      clearTimeout(this.#timers.send);
      this.#busy = true;
      this.#mark(message.id, "sending");
      let wait = 0;
      try {
        wait = await this.#deliver(message);
      } catch {
        wait = Math.random() * Math.min(LONGEST_WAIT, FIRST_WAIT * 2 ** this.#tries++) + 200;
      }
      this.#busy = false;
      if (wait) {
        this.#mark(message.id, "waits");
        this.#timers.send = setTimeout(() => this.#sendWaiting(), wait);
      } else this.#sendWaiting();
    }
    /** Milliseconds to wait before the next try; 0 when this message is settled. */
    async #deliver(message) {
      const opening = !this.#kept.case;
      const body = { text: message.text, client_id: message.id };
      const { status, data, after } = opening
        ? await this.#call("POST", "/cases", { ...body, language: this.#chosen(), zone: Intl.DateTimeFormat().resolvedOptions().timeZone })
        : await this.#call("POST", `/cases/${this.#kept.case}/messages`, body);
      if (status >= 200 && status < 300) {
        if (opening) Object.assign(this.#kept, { case: data.case, token: data.token });
        this.#tries = 0;
        this.#drop(message.id);
        this.#mark(message.id, "sent");
        this.#take(data);
        this.#pollIn(SOON);
        return 0;
      }
      if (!opening && [401, 403, 404, 410].includes(status)) {              // the case is gone: say it, and begin anew
        this.#forgetCase();
        this.#alert.textContent = this.#words.lost;
        return 1;
      }
      if (status >= 500 || [408, 409, 425, 429].includes(status)) {
        this.#tries++;
        return Math.max(after, Math.random() * Math.min(LONGEST_WAIT, FIRST_WAIT * 2 ** this.#tries)) + 200;
      }
      message.refused = data.detail || data.title || String(status);
      this.#keep();
      this.#mark(message.id, "refused", message.refused);
      return 0;
    }
    /** The language that somebody chose; without it the first words decide. */
    #chosen() {
      return this.#kept.lang || (this.#words === WORDS.es ? "es" : undefined);
    }
    async #call(method, path, body) {
      const stop = new AbortController();
      const timer = setTimeout(() => stop.abort(), PATIENCE);
      const headers = {};
      if (this.#kept.token) headers.Authorization = `Bearer ${this.#kept.token}`;
      if (body) headers["Content-Type"] = "application/json";
      if (!body && this.#etag) headers["If-None-Match"] = this.#etag;
      try {
        const api = (this.getAttribute("api") || "/api").replace(/\/$/, "");
        const reply = await fetch(api + path, { method, headers, body: body && JSON.stringify(body), signal: stop.signal, credentials: "omit", cache: "no-store" });
        const data = reply.status === 304 ? null : await reply.json();
        return { status: reply.status, data, etag: reply.headers.get("ETag"), after: 1000 * Number(reply.headers.get("Retry-After") || 0) };
      } finally {
        clearTimeout(timer);
      }
    }

    // to a phone and back
    async #takeAlong() {
      try {
        const { status, data } = await this.#call("POST", `/cases/${this.#kept.case}/code`);
        this.#shown.textContent = status === 200
          ? this.#words.code.replace("{code}", data.code).replace("{number}", data.number)
          : status === 404 ? this.#words.noLine : data.detail;
      } catch { this.#shown.textContent = this.#words.waits; }
    }
    async #openByCode(code) {
      try {
        const { status, data } = await this.#call("POST", "/cases/by-code", { code: code.replace(/[^0-9 ]/g, "") || "0" });
        if (status !== 200) { this.#shown.textContent = status === 404 ? this.#words.wrong : data.detail; return; }
        Object.assign(this.#kept, { case: data.case, token: data.token });
        this.#keep();
        this.#shown.textContent = "";
        this.#take(data, true);
        this.#pollIn(SOON);
        this.#field.focus();
      } catch { this.#shown.textContent = this.#words.waits; }
    }

    // what came since
    #atOnce() {
      this.#sendWaiting();
      this.#pollIn(0);
    }
    #pollIn(wait) {
      clearTimeout(this.#timers.poll);
      this.#timers.poll = setTimeout(() => this.#poll(), wait);
    }
    async #poll() {
      if (!this.#kept.case || !this.isConnected) return;
      try {
        const { status, data, etag } = await this.#call("GET", `/cases/${this.#kept.case}/messages?after=${this.#after}`);
        if (status === 200) {
          this.#take(data, this.#seen.size === 0);
          const last = data.messages[data.messages.length - 1];
          this.#etag = last ? null : etag;                                   // the mark is of what follows `after`
          if (last) this.#after = Math.max(this.#after, last.id);
        } else if ([401, 403, 404, 410].includes(status)) {
          this.#forgetCase();
          this.#alert.textContent = this.#words.lost;
          return;
        }
      } catch { /* no signal: the next round asks again */ }
      const there = !document.hidden && Date.now() - this.#lastWord < RECENT;
      this.#pollIn(there ? SOON : SELDOM);
    }

    // what outlives a reload
    get #drawer() { return `cold-room-chat ${this.getAttribute("api") || "/api"}`; }
    #recall() {
      let kept = null;
      try { kept = JSON.parse(localStorage.getItem(this.#drawer)); } catch { /* no storage: it lives as long as the page */ }
      kept = { case: null, token: null, draft: "", lang: null, ...kept, waiting: (kept && kept.waiting) || [] };
      kept.waiting = kept.waiting.filter((message) => Date.now() - message.at < KEPT_FOR);
      return kept;
    }
    #keep() {
      this.#kept.waiting = this.#kept.waiting.slice(-KEPT_MOST);
      try { localStorage.setItem(this.#drawer, JSON.stringify(this.#kept)); } catch { /* as above */ }
    }
    #drop(id) {
      this.#kept.waiting = this.#kept.waiting.filter((waiting) => waiting.id !== id);
      this.#keep();
    }
    #forgetCase() {
      Object.assign(this.#kept, { case: null, token: null });
      this.#keep();
      this.#etag = this.#state = this.#room = null;
      this.#after = 0;
      this.#seen.clear();
      for (const line of [...this.#log.children]) if (![...this.#entries.values()].includes(line)) line.remove();
      this.#showStub();
      this.#showState();
      this.#showChoices();
    }
    #forget() {
      this.#entries.clear();
      this.#kept.waiting = [];
      this.#forgetCase();
    }
  }
  if (!customElements.get("cold-room-chat")) customElements.define("cold-room-chat", ColdRoomChat);
})();
