// Runs an example as it stands in its fields, on the service that served the page.

const KEY = "mendgauge.key";
const TEXT = /json|^text\//;

export function runExamples() {
  for (const code of document.querySelectorAll("pre.code")) {
    code.textContent = code.textContent.replaceAll("http://127.0.0.1:8340", location.origin);
  }
  const asking = document.querySelector(".key");
  let again = null;
  for (const example of document.querySelectorAll(".example")) {
    const row = example.querySelector(".run");
    const run = () => answerIn(example).then((refused) => {
      if (!refused || !asking) return;
      again = run;
      asking.hidden = false;
      asking.querySelector("input").focus();
    });
    row.hidden = false;
    row.querySelector("button").addEventListener("click", run);
    example.addEventListener("keydown", (event) => {
      const sent = event.key === "Enter" && (event.ctrlKey || event.metaKey || event.target.matches(".given input"));
      if (!sent) return;
      event.preventDefault();
      run();
    });
  }
  asking?.querySelector("button").addEventListener("click", () => {
    sessionStorage.setItem(KEY, asking.querySelector("input").value.trim());
    asking.hidden = true;
    again?.();
  });
}

/** Put the answer to an example below it; return whether the service asked for a key. */
async function answerIn(example) {
  const status = example.querySelector("[role=status]");
  const place = example.querySelector(".answer");
  const button = example.querySelector(".run button");
  button.disabled = true;
  status.textContent = "Asking …";
  try {
    const began = performance.now();
    const response = await fetch(addressOf(example), requestOf(example));
    const kind = response.headers.get("Content-Type") ?? "";
    const shown = TEXT.test(kind) ? inText(await response.text(), kind) : inMedia(await response.blob(), kind);
    place.replaceChildren(shown);
    const time = Math.round(performance.now() - began);
    status.textContent = `${response.status}, ${response.ok ? "answered" : "refused"} after ${time} ms`;
    return response.status === 401;
  } catch {
    place.replaceChildren();
    status.textContent = "The service cannot be reached. Try again in a moment.";
    return false;
  } finally {
    button.disabled = false;
  }
}

function addressOf(example) {
  let path = example.dataset.path;
  const query = new URLSearchParams();
  for (const field of example.querySelectorAll(".given input")) {
    const value = field.value.trim();
    if (field.dataset.in === "path") path = path.replace(`{${field.name}}`, encodeURIComponent(value));
    else if (value) query.set(field.name, value);
  }
  return query.size ? `${path}?${query}` : path;
}

function requestOf(example) {
  const headers = { Accept: example.querySelector(".form")?.value ?? "application/json" };
  const key = sessionStorage.getItem(KEY);
  if (key) headers.Authorization = `Bearer ${key}`;
  const body = example.querySelector(".body")?.value;
  if (body !== undefined) headers["Content-Type"] = "application/json";
  return { method: example.dataset.method, headers, body, cache: "no-store" };
}

function inText(text, kind) {
  const shown = document.createElement("pre");
  shown.tabIndex = 0;
  shown.setAttribute("role", "region");
  shown.setAttribute("aria-label", "Answer");
  shown.textContent = /json/.test(kind) ? JSON.stringify(JSON.parse(text), null, 2) : text;
  return shown;
}

function inMedia(blob, kind) {
  const address = URL.createObjectURL(blob);
  if (kind.startsWith("image/")) {
    const picture = new Image();
    picture.alt = "The drawing that the service answered with";
    picture.src = address;
    return picture;
  }
  const link = document.createElement("a");
  link.href = address;
  link.download = "answer.pdf";
  link.className = "button";
  link.textContent = "Save the PDF";
  return link;
}
