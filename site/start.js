// The few lines that must work before any Python does: when PyScript itself cannot start, say so.
//
// Everything else about starting is in app/engine.py. `document.documentElement.dataset.failed` is
// set to the reason, and whatever has the class `start-failed` is shown (see index.html).
const failed = (reason) => {
  const root = document.documentElement;
  if (root.dataset.usable || root.dataset.failed) return; // app/main.py is running, or it is known
  root.dataset.failed = reason;
  for (const place of document.querySelectorAll(".start-failed")) place.hidden = false;
};
addEventListener(
  "error",
  ({ target, message }) => failed(target?.src ? `${target.src} could not be loaded` : message),
  true,
);
addEventListener("unhandledrejection", ({ reason }) => failed(String(reason)));
