// The pattern that was drawn last of the user's own draft, kept so that the next visit shows it before
// any Python runs. It says that it is from last time until it is drawn again.
//
// - What is kept is this page's own drawing and what stood below it, with the request it answers.
// - It is dropped as soon as the draft changes, and kept again once the change is drawn.
// - app/lasttime.py asks whether the draft that was kept is still the one it answers; if not, or when
//   the address holds another draft, it is not shown.
{
  const key = `ellwand ${ellwand.home} last`;
  const dressed = ["stage", "bar", "cloth"]; // carry the cloth's colour and the drawing's shape
  const attributes = ["data-chalk", "style"];
  const soon = 400; // milliseconds; typing on is not held up by writing this
  const said = "From last time: it is drawn again as soon as the drafting tools are here.";
  const root = document.documentElement;
  const at = (place) => document.getElementById(place);
  const results = () => document.querySelector(".results");

  let timer = 0;
  let unwritten = null; // {of, drawing} that is about to be kept
  let before = null; // what the last pattern stands in the place of

  const dress = () =>
    Object.fromEntries(
      dressed.map((place) => [place, attributes.map((name) => at(place).getAttribute(name))]),
    );
  const put = ({ drawing, peek, below, worn }, places = dressed) => {
    at("cloth").innerHTML = drawing;
    at("peek").innerHTML = peek ?? drawing;
    results().innerHTML = below;
    for (const place of places) {
      attributes.forEach((name, i) => {
        if (worn[place][i] === null) at(place).removeAttribute(name);
        else at(place).setAttribute(name, worn[place][i]);
      });
    }
  };
  const write = () => {
    clearTimeout(timer);
    if (!unwritten) return;
    ellwand.keep(key, JSON.stringify({ ...unwritten, below: results().innerHTML, worn: dress() }));
    unwritten = null;
  };
  const forget = () => {
    clearTimeout(timer);
    unwritten = null;
    ellwand.forget(key);
  };
  const say = (text) => {
    at("not-current").textContent = text;
    at("not-current").hidden = !text;
  };
  // A link's fragment holds another draft; that of a section does not.
  const addressIsFree = () => !location.hash || at(location.hash.slice(1))?.localName === "section";

  const show = () => {
    const text = ellwand.recall(key);
    if (!text || !addressIsFree()) return;
    before = {
      of: "",
      drawing: at("cloth").innerHTML,
      peek: at("peek").innerHTML,
      below: results().innerHTML,
      worn: dress(),
    };
    try {
      const kept = JSON.parse(text);
      if ([kept.of, kept.drawing, kept.below].some((one) => typeof one !== "string")) throw new TypeError();
      put(kept);
      before.of = kept.of;
    } catch {
      put(before);
      before = null;
      forget();
      return;
    }
    say(said);
    root.dataset.returning = root.dataset.last = "yes";
    performance.mark("last-pattern");
  };

  ellwand.last = {
    // Something was drawn, in answer to the request `of`.
    keep: (of, drawing) => {
      before = null;
      delete root.dataset.last;
      clearTimeout(timer);
      unwritten = { of, drawing };
      timer = setTimeout(write, soon);
    },
    // The draft is another now, and not drawn yet.
    drop: () => {
      forget();
      if (root.dataset.last) root.dataset.last = "stale";
    },
    // Something was drawn that is not to be kept.
    leave: () => {
      before = null;
      delete root.dataset.last;
    },
    // Take away what is shown from last time, unless it answers the request `of`; true when it did.
    check: (of) => {
      if (!before || before.of === of) return false;
      put(before, ["cloth"]); // the colour has been set by now
      before = null;
      say("");
      delete root.dataset.last;
      return true;
    },
  };
  addEventListener("pagehide", write);
  // "interactive": all of the page stands there, and no module has run.
  document.addEventListener("readystatechange", show, { once: true });
}
