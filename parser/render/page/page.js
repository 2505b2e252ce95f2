"use strict";
/* Every line, bar and marked word is a link to the first place it rests on, and works without this script. With it, a link shows
   all its places, lights them, says how many there are, goes back again, and plays its moment of the recording. */
(() => {
  const byId = (id) => document.getElementById(id);
  const status = byId("status"), steps = byId("steps"), player = byId("player");
  let shown = null; // {from, groups, n}: what was asked, its places, and which of them is in view

  /* data-to: places between commas, the pieces of one place between blanks. */
  const groupsOf = (link) => link.dataset.to.split(",").map((ids) => ids.split(" ").map(byId));

  function bring(element) {
    const box = element.closest(".words");
    if (box && box.scrollHeight > box.clientHeight) {
      // Only the talk moves: scrollIntoView would take the whole page along.
      const off = element.getBoundingClientRect().top - box.getBoundingClientRect().top;
      box.scrollTop += off - box.clientHeight / 3;
      if (box.getBoundingClientRect().top < 0 || box.getBoundingClientRect().bottom > innerHeight) box.scrollIntoView({ block: "nearest" });
    } else {
      element.scrollIntoView({ block: "center", inline: "center" });
    }
  }

  function focus(element) {
    // What is no link (words said while an interval was on) can hold the focus while it is shown.
    if (!element.matches("a[href]")) element.setAttribute("tabindex", "-1");
    element.focus({ preventScroll: true });
    bring(element);
  }

  function light(name, elements) {
    for (const element of document.querySelectorAll("." + name)) element.classList.remove(name);
    for (const element of elements) element.classList.add(name);
  }

  function go(n) {
    const { from, groups } = shown;
    shown.n = (n + groups.length) % groups.length;
    light("here", groups[shown.n]);
    focus(groups[shown.n][0]);
    const what = from.closest(".words") ? "line or bar that rests on these words" : "place in the talk-through";
    const many = from.closest(".words") ? "lines and bars that rest on these words" : "places in the talk-through";
    status.textContent = groups.length === 1 ? `1 ${what}` : `${shown.n + 1} of ${groups.length} ${many}`;
    for (const id of ["before", "next"]) byId(id).hidden = groups.length === 1;
  }

  function show(link) {
    shown = { from: link, groups: groupsOf(link), n: 0 };
    light("from", [link]);
    light("lit", shown.groups.flat());
    steps.hidden = false;
    go(0);
  }

  function back() {
    if (!shown) return;
    const { from } = shown;
    shown = null;
    for (const name of ["from", "lit", "here"]) light(name, []);
    steps.hidden = true;
    status.textContent = "";
    focus(from);
  }

  /* The coach's own recording: a file of theirs, read in place. */

  function play(element) {
    const timed = element.closest("[data-at]");
    if (!player || !player.src || !timed) return;
    player.currentTime = Number(timed.dataset.at);
    player.play().catch(() => { /* a browser that wants a click on the player first: the moment is set all the same */ });
  }

  function follow() {
    const now = player.currentTime, drawing = byId("drawing"), head = byId("playhead");
    const cues = [...document.querySelectorAll(".cue[data-at]")];
    light("now", cues.filter((cue) => Number(cue.dataset.at) <= now).slice(-1));
    if (head) for (const end of ["x1", "x2"]) head.setAttribute(end, `${(100 * now) / Number(drawing.dataset.seconds)}%`);
  }

  if (player) {
    byId("recording").addEventListener("change", ({ target }) => {
      if (player.src) URL.revokeObjectURL(player.src);
      const [file] = target.files;
      player.hidden = !file;
      document.body.classList.toggle("playing", Boolean(file));
      if (file) player.src = URL.createObjectURL(file);
      else player.removeAttribute("src");
    });
    player.addEventListener("timeupdate", follow);
    player.addEventListener("error", () => { if (player.src) status.textContent = "This browser cannot play that file. Choose an audio or video file."; });
  }

  /* Where the class is wider than the screen, its first bar is in view, not the talk before it. */

  const scroller = document.querySelector(".scroller"), first = document.querySelector("#drawing .bar rect");
  if (first) scroller.scrollLeft = first.getBoundingClientRect().left - scroller.getBoundingClientRect().left - 16;

  /* Clicks and keys. Enter on a link is a click. */

  document.addEventListener("click", (event) => {
    // Whoever marks words to copy them wants to stay; Enter (detail 0) is always meant.
    if (event.ctrlKey || event.metaKey || event.shiftKey || (event.detail && getSelection().toString())) return;
    const link = event.target.closest("[data-to]");
    const moment = link || event.target.closest("[data-at]");
    if (link || event.target.closest(".stamp")) event.preventDefault();
    if (link) show(link);
    if (moment) play(moment);
  });
  byId("before").addEventListener("click", () => step(-1));
  byId("next").addEventListener("click", () => step(1));
  byId("back").addEventListener("click", back);

  function step(by) {
    go(shown.n + by);
    play(shown.groups[shown.n][0]);
  }

  /* Hundreds of words and bars are one stop of the Tab key each row; the arrow keys move inside it. */

  for (const row of document.querySelectorAll("[data-roving]")) {
    const stops = [...row.querySelectorAll("a[href]")];
    let current = 0;
    stops.forEach((stop, n) => {
      stop.setAttribute("tabindex", n ? "-1" : "0");
    });
    row.addEventListener("focusin", ({ target }) => {
      const n = stops.indexOf(target);
      if (n < 0) return;
      stops[current].setAttribute("tabindex", "-1");
      stops[n].setAttribute("tabindex", "0");
      current = n;
    });
    row.addEventListener("keydown", (event) => {
      const moves = { ArrowRight: current + 1, ArrowDown: current + 1, ArrowLeft: current - 1, ArrowUp: current - 1, Home: 0, End: stops.length - 1 };
      const n = moves[event.key];
      if (event.altKey || event.ctrlKey || event.metaKey || stops[n] === undefined || event.target === row) return;
      event.preventDefault();
      focus(stops[n]);
    });
  }

  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") back();
  });
})();
