// Files that are dragged onto a stage go into its form. Without this they are picked with the box.

const hasFiles = (event) => event.dataTransfer?.types.includes("Files");

const isRecording = (file) => /\.(csv|tsv|dat|asc)$/i.test(file.name);

/** The box for files of the stage under the pointer: recordings of pulls have one of their own. */
const boxOf = (event) => {
  const section = event.target.closest?.("section.stage");
  const recordings = section?.querySelector(".add-pulls input[type=file][multiple]");
  const files = [...event.dataTransfer.files];
  const are = event.target.closest?.(".add-pulls") || (files.length > 0 && files.every(isRecording));
  return recordings && are
    ? recordings
    : section?.querySelector(".add-file input[type=file][multiple]");
};

const mark = (section) => {
  for (const other of document.querySelectorAll(".drop-here")) {
    if (other !== section) other.classList.remove("drop-here");
  }
  section?.classList.add("drop-here");
};

document.addEventListener("dragover", (event) => {
  if (!hasFiles(event)) return;
  // Beside a stage, too: the browser would leave the page for the file.
  event.preventDefault();
  const box = boxOf(event);
  event.dataTransfer.dropEffect = box ? "copy" : "none";
  mark(box?.closest("section.stage"));
});

document.addEventListener("dragleave", (event) => {
  if (!event.relatedTarget) mark(null);
});

document.addEventListener("drop", (event) => {
  if (!hasFiles(event)) return;
  event.preventDefault();
  mark(null);
  const box = boxOf(event);
  if (!box) return;
  box.files = event.dataTransfer.files;
  box.closest("details").open = true;
  // The caption is what is still to be typed; nothing is sent before the button is pressed.
  (box.form.elements.note ?? box.form.querySelector("button")).focus();
});
