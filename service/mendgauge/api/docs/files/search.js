// Finds pages as one types, in a list that is fetched once.

const SHOWN = 12;

export function findAsTyped() {
  const finder = document.querySelector(".finder");
  const field = finder.querySelector("input");
  const found = document.querySelector("#found");
  let pages = null;

  const show = async () => {
    const words = wordsOf(field.value);
    if (!words.length) {
      found.hidden = true;
      return;
    }
    pages ??= fetch("/docs/search.json").then((response) => response.json());
    const hits = best(await pages, words);
    if (words.join() !== wordsOf(field.value).join()) return;
    const more = hits.length > SHOWN ? `, the first ${SHOWN} are shown` : "";
    found.querySelector("p").textContent = hits.length ? `${hits.length} found${more}` : "Nothing found";
    found.querySelector("ol").replaceChildren(...hits.slice(0, SHOWN).map(entry));
    found.hidden = false;
  };

  finder.hidden = false;
  field.addEventListener("input", () => show().catch(() => { pages = null; }));
  field.addEventListener("keydown", (event) => {
    if (event.key === "Escape") {
      field.value = "";
      found.hidden = true;
    } else if (event.key === "Enter") {
      found.querySelector("a")?.click();
    } else if (event.key === "ArrowDown") {
      event.preventDefault();
      found.querySelector("a")?.focus();
    }
  });
  found.addEventListener("keydown", (event) => {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (event.key === "Escape") field.focus();
    if (!step) return;
    event.preventDefault();
    const links = [...found.querySelectorAll("a")];
    (links[links.indexOf(document.activeElement) + step] ?? field).focus();
  });
  found.addEventListener("click", (event) => {
    if (event.target.closest("a")) found.hidden = true;
  });
}

function wordsOf(text) {
  return text.toLowerCase().split(/[^\p{L}\p{N}]+/u).filter(Boolean);
}

/** The entries that have every word, those with more of them in the title first. */
export function best(pages, words) {
  const weighed = [];
  for (const page of pages) {
    const [, section, title, text] = page;
    const heading = ` ${wordsOf(title).join(" ")}`;
    const rest = ` ${wordsOf(`${section} ${text}`).join(" ")}`;
    let weight = 0;
    for (const word of words) {
      if (heading.includes(` ${word}`)) weight += 4;
      else if (rest.includes(` ${word}`)) weight += 1;
      else { weight = -1; break; }
    }
    if (weight > 0) weighed.push([weight - title.length / 200, page]);
  }
  return weighed.sort(([a], [b]) => b - a).map(([, page]) => page);
}

function entry([address, section, title]) {
  const link = document.createElement("a");
  link.href = address;
  link.textContent = title;
  const where = document.createElement("span");
  where.textContent = section;
  const line = document.createElement("li");
  line.append(link, where);
  return line;
}
