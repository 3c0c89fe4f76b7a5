// The drawing of the case, large, and at its full size on demand.

import { h } from "./preact.js";
import { state } from "./state.js";
import { t } from "./texts.js";

/** The drawings of what is entered, each with its description for who cannot see it. */
export function Pictures() {
  return h(
    "section",
    { class: "pictures", tabindex: 0, "aria-label": t("drawing") },
    state.pictures.length ? state.pictures.map((picture) => h(Drawn, { key: picture.view, picture })) : h("p", { class: "soft" }, t("no_drawing")),
  );
}

/** @param {{picture: import("./state.js").Picture}} props */
function Drawn({ picture: { view, url, title, description } }) {
  return h(
    "figure",
    null,
    h("img", { src: url, alt: `${title}. ${description}`, decoding: "async" }),
    h("figcaption", null, h("span", null, t(view)), h("button", { type: "button", onClick: () => openLarge(view) }, t("full_size"), h("span", { class: "unseen" }, ` ${t(view)}`))),
    h(
      "dialog",
      { id: `large-${view}`, "aria-label": t(view) },
      h("form", { method: "dialog" }, h("button", null, t("close"))),
      h("div", { class: "large", tabindex: 0, role: "region", "aria-label": title }, h("img", { src: url, alt: `${title}. ${description}` })),
    ),
  );
}

/** @param {string} view */
const openLarge = (view) => /** @type {HTMLDialogElement} */ (document.getElementById(`large-${view}`)).showModal();
