// Offers names while one is typed. Everything works without it.
"use strict";
const field = document.getElementById("f-name");
const list = document.getElementById("names");
let waiting = 0;
let last = "";

async function offer() {
  const typed = field.value.trim();
  if (typed.length < 2 || typed === last) return;
  last = typed;
  const answer = await fetch("/api/find?limit=8&q=" + encodeURIComponent(typed));
  if (!answer.ok || field.value.trim() !== typed) return;
  const found = await answer.json();
  list.replaceChildren(...found.map((one) => {
    const option = document.createElement("option");
    option.value = one.name;
    option.label = one.matched === one.name ? one.common_name : one.matched;
    option.textContent = option.label ? one.name + " (" + option.label + ")" : one.name;
    return option;
  }));
}

field.addEventListener("input", () => {
  clearTimeout(waiting);
  waiting = setTimeout(() => offer().catch(() => {}), 150);
});
