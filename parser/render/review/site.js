"use strict";
// Finds classes by the words that stand in the page itself: there is no server to ask, and nothing is fetched.
(() => {
  const list = document.getElementById("list");
  if (!list) return;
  const finder = document.getElementById("finder");
  const sought = document.getElementById("sought");
  const found = document.getElementById("found");
  // Accents and capitals make no difference to who is looking.
  const plain = (words) => words.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
  const classes = [...list.children].map((item) => ({ item, words: plain(item.textContent.replace(/\s+/g, " ")) }));

  const search = () => {
    const wanted = plain(sought.value).split(/\s+/).filter(Boolean);
    const shown = classes.filter(({ words }) => wanted.every((word) => words.includes(word)));
    // All at once: a list that loses thousands of items one by one is numbered anew each time.
    if (shown.length !== list.children.length || shown.some(({ item }, place) => item !== list.children[place])) {
      list.replaceChildren(...shown.map(({ item }) => item));
    }
    found.textContent = wanted.length ? `${shown.length} of ${classes.length} classes` : "";
  };

  finder.hidden = false;
  sought.addEventListener("input", search);
  sought.addEventListener("keydown", (event) => {
    if (event.key === "Escape") { sought.value = ""; search(); }
  });
  // A page that is gone back to keeps what was typed.
  window.addEventListener("pageshow", search);
})();
