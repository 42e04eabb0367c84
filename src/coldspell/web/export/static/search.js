// Finds plants by any of their names, in the index that plants.js brings. Everything else works without it.
"use strict";
const plants = window.coldspellPlants || [];
const field = document.getElementById("q");
const list = document.getElementById("found");
const status = document.getElementById("status");
const MOST = 60;

function fold(text) {
  return text
    .toLowerCase()
    .replace(/ß/g, "ss").replace(/æ/g, "ae").replace(/œ/g, "oe").replace(/ø/g, "o").replace(/ł/g, "l")
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .replace(/['’`.]/g, "")
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .trim();
}

// 4: a whole name, 3: the beginning of one, 2: every word begins a word of one name,
// 1: it stands within a name (as in German ones), 0: none.
function score(names, typed, words) {
  let best = 0;
  for (const name of names.split("|")) {
    if (name === typed) return 4;
    const parts = name.split(" ");
    if (name.startsWith(typed)) best = 3;
    else if (best < 2 && words.every((word) => parts.some((part) => part.startsWith(word)))) best = 2;
    else if (best < 1 && typed.length > 3 && name.includes(typed)) best = 1;
  }
  return best;
}

// How many letters have to be changed, put in or left out to make one word of another; at most 3.
function apart(one, two) {
  if (Math.abs(one.length - two.length) > 2) return 3;
  let row = Array.from({ length: two.length + 1 }, (_, i) => i);
  for (let i = 1; i <= one.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= two.length; j += 1) {
      const same = one[i - 1] === two[j - 1] ? 0 : 1;
      next.push(Math.min(row[j] + 1, next[j - 1] + 1, row[j - 1] + same));
    }
    row = next;
  }
  return row[two.length];
}

function search(typed) {
  const one = typed.replace(/s$/, "");
  const words = one.split(" ");
  const found = plants.map((plant) => [score(plant[3], typed, words) || score(plant[3], one, words), plant]);
  const hits = found.filter(([points]) => points > 0).sort((a, b) => b[0] - a[0]);
  if (hits.length > 0 || typed.length < 4) return hits.map(([, plant]) => plant);
  const near = plants.map((plant) => [Math.min(...plant[3].split("|").map((name) => apart(name, typed))), plant]);
  return near.filter(([off]) => off < 3).sort((a, b) => a[0] - b[0]).map(([, plant]) => plant);
}

function show() {
  const typed = fold(field.value);
  const hits = typed.length < 2 ? [] : search(typed);
  list.replaceChildren(...hits.slice(0, MOST).map(([name, common, file]) => {
    const item = document.createElement("li");
    const link = document.createElement("a");
    const botanical = document.createElement("i");
    link.href = "plants/" + file;
    botanical.textContent = name;
    link.append(botanical);
    item.append(link);
    if (common) item.append(" " + common);
    return item;
  }));
  status.textContent = typed.length < 2 ? "" : status.dataset.says + " " + hits.length;
}

document.getElementById("search").hidden = false;
field.addEventListener("input", show);
show();
