// Caliper and keyboard entry, and one send for each form. Every page works without this.

// A measuring tool that types like a keyboard ends a reading with Enter, some with two line ends.
const SECOND_ENTER_MS = 250;
// If a sent form brings no new page (a lost connection), its button comes back after this.
const GIVE_BACK_MS = 10_000;

let movedAt = -Infinity;

/** The readings of the form that `input` stands in, in the order of the page. */
const readingsOf = (input) =>
  input.form ? [...input.form.querySelectorAll(".readings input")] : [];

/** The button that sends the form. */
const senderOf = (form) => form.querySelector("button:not([type=button])");

/** Says to those who do not see it which reading comes now. */
const say = (input) => {
  const live = input.closest(".field")?.querySelector(".live");
  if (live) live.textContent = input.dataset.say ?? "";
};

/** Enter goes to the next reading, from the last one to the button; it never sends the form. */
document.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || event.isComposing) return;
  const target = event.target;
  if (target.matches?.("button") && event.timeStamp - movedAt < SECOND_ENTER_MS) {
    // The second line end of the last reading: not a press.
    event.preventDefault();
    return;
  }
  if (!target.matches?.(".readings input")) return;
  event.preventDefault();
  // The second line end of the reading before: the box is still empty.
  if (target.value.trim() === "") return;
  const readings = readingsOf(target);
  const next = readings[readings.indexOf(target) + 1] ?? senderOf(target.form);
  if (!next) return;
  next.focus();
  movedAt = event.timeStamp;
});

/** A reading that is entered again is replaced, not appended to. */
document.addEventListener("focusin", (event) => {
  if (!event.target.matches?.(".readings input")) return;
  event.target.select();
  say(event.target);
});

/** A second press while the first is on its way does nothing. */
document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post") return;
  if (form.dataset.sent) {
    event.preventDefault();
    return;
  }
  form.dataset.sent = "yes";
  // Later: the pressed button must still go into the form.
  setTimeout(() => {
    for (const button of form.querySelectorAll("button")) button.disabled = true;
  });
  setTimeout(() => giveBack(form), GIVE_BACK_MS);
});

const giveBack = (form) => {
  if (!form.dataset.sent) return;
  delete form.dataset.sent;
  for (const button of form.querySelectorAll("button")) button.disabled = false;
};

/** The page shown again from the browser's memory (Back): its forms can be sent again. */
addEventListener("pageshow", () => {
  for (const form of document.forms) giveBack(form);
});
