// What is typed in one form of a page stays when another one is sent, where it still says the same. Every page works
// without this.

/** Pages of one job or gauge share their drafts: a refused form comes back under a place of its own. */
const PLACE = `drafts ${location.pathname.split("/").slice(0, 3).join("/")}`;

/** Boxes that keep what was typed. A tick says what is so at that moment: it is set anew. */
const KEPT = "textarea[name], select[name], input[name]:is([type=text], [type=radio], [type=date], :not([type]))";

/** Hidden boxes that are others each time. The rest say what a form is about: a revision, a check, doubts in sight. */
const FRESH = ["csrf", "submission", "version"];

const fieldsOf = (form) => [...form.querySelectorAll(KEPT)];

/** What `form` is about. Readings are also about the work that stood when they were taken. */
const about = (form) => {
  const hidden = [...form.querySelectorAll("input[type=hidden]")].filter((box) => !FRESH.includes(box.name));
  const work = form.querySelector(".readings") ? document.querySelector("[data-work]")?.dataset.work : "";
  return JSON.stringify([work, hidden.map((box) => [box.name, box.value])]);
};

const asItCame = (field) => {
  if (field.type === "radio") return field.defaultChecked;
  if (field.tagName !== "SELECT") return field.defaultValue;
  const options = [...field.options];
  return (options.find((option) => option.defaultSelected) ?? options[0])?.value;
};

const asItIs = (field) => (field.type === "radio" ? field.checked : field.value);

/** Whether somebody typed into `field`; all that stands in a refused form was. */
const isTyped = (field) => field.form.querySelector(".error") !== null || asItIs(field) !== asItCame(field);

/** The boxes of `form` that have this name: readings share one. */
const named = (form, name) => fieldsOf(form).filter((field) => field.name === name);

/** What was typed into `form`: of each box that was touched its name, its place among those, and the value. */
const typedInto = (form) =>
  fieldsOf(form)
    .filter(isTyped)
    .filter((field) => field.type !== "radio" || field.checked)
    .map((field) => [field.name, named(form, field.name).indexOf(field), field.value]);

document.addEventListener("submit", ({ target }) => {
  if (target.method !== "post") return;
  if (new URL(target.action).pathname === "/logout") {
    sessionStorage.clear();
    return;
  }
  const others = [...document.forms].filter((form) => form !== target && form.id);
  const drafts = others.map((form) => [form.id, about(form), typedInto(form)]);
  const typed = drafts.filter(([, , boxes]) => boxes.length > 0);
  sessionStorage.setItem(PLACE, JSON.stringify(typed));
});

const typeAgain = (form, [name, place, value]) => {
  const field = named(form, name)[place];
  if (!field || (field.type === "radio" && field.value !== value)) return;
  if (field.type === "radio") field.checked = true;
  else field.value = value;
  for (let fold = form.closest("details"); fold; fold = fold.parentElement.closest("details")) {
    fold.open = true;
  }
};

const drafts = JSON.parse(sessionStorage.getItem(PLACE) ?? "[]");
sessionStorage.removeItem(PLACE);
for (const [id, was, boxes] of drafts) {
  const form = document.getElementById(id);
  if (form && about(form) === was) for (const box of boxes) typeAgain(form, box);
}
