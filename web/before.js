// Before going: asks the service what the land does to the wind and where there is
// room, and draws it as ink on paper.
import { drawLake } from "./before/lake.js";

const form = /** @type {HTMLFormElement} */ (byId("wind"));
const kept = "helmcue.before";

/** @param {string} id @returns {HTMLElement} */
function byId(id) {
  const el = document.getElementById(id);
  if (!el) throw new Error(`the page has no ${id}`);
  return el;
}

/** @param {string} id @param {string[]} lines @param {boolean} [tick] */
function list(id, lines, tick) {
  byId(id).replaceChildren(...lines.map((text) => {
    const li = document.createElement("li");
    if (!tick) {
      li.textContent = text;
      return li;
    }
    const label = document.createElement("label");
    const box = document.createElement("input");
    box.type = "checkbox";
    const words = document.createElement("span");
    words.textContent = text;
    label.append(box, words);
    li.append(label);
    return li;
  }));
}

/** @param {number} ms */
function clock(ms) {
  return new Date(ms).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
}

/** @param {any} plan */
function show(plan) {
  byId("name").textContent = plan.name || "The water";
  byId("now").replaceChildren(drawLake(plan, plan.map, Number(form.from.value)));
  byId("caption").textContent = `Wind from ${form.from.value}° true, ${form.kn.value} knots.`;
  byId("later").hidden = !plan.after;
  if (plan.after) byId("then").replaceChildren(drawLake({ ...plan, rooms: [] }, plan.after, Number(form.from.value) + Number(form.shift.value)));
  list("says", plan.says);
  list("checks", plan.checks, true);
  list("cautions", plan.cautions);
  byId("light").textContent = plan.set
    ? `Sunrise ${clock(plan.rise)}, sunset ${clock(plan.set)} by this device's clock. Head back by ${clock(plan.back_by)} to be in before dark.`
    : "The sun neither rises nor sets there today, or is not known.";
  byId("sheet").hidden = false;
}

async function look() {
  const fault = byId("fault");
  fault.hidden = true;
  const ask = new URLSearchParams();
  for (const [name, value] of new FormData(form)) if (value !== "") ask.set(name, String(value));
  localStorage.setItem(kept, ask.toString());
  try {
    const answer = await fetch(`/plan.json?${ask}`);
    if (!answer.ok) throw new Error(await answer.text());
    show(await answer.json());
  } catch (e) {
    byId("sheet").hidden = true;
    fault.textContent = e instanceof TypeError ? "The service does not answer: is it running, and is this device on its network?" : String(e instanceof Error ? e.message : e);
    fault.hidden = false;
  }
}

for (const [name, value] of new URLSearchParams(localStorage.getItem(kept) ?? "")) {
  const field = form.elements.namedItem(name);
  if (field instanceof HTMLInputElement) field.value = value;
}
form.addEventListener("submit", (e) => {
  e.preventDefault();
  look();
});
const who = /** @type {HTMLInputElement} */ (byId("who"));
who.value = localStorage.getItem(`${kept}.who`) ?? "";
who.addEventListener("input", () => localStorage.setItem(`${kept}.who`, who.value)); // it stays on this device
byId("print").addEventListener("click", () => window.print());

look();
