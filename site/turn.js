// The garment worn, on a canvas that a finger or the arrow keys turn.
//
// - app/worn.py asks for this file when the first garment is hung, never before.
// - ellwand.turning(canvas, text, turned): `text` is what drafting/worn/seen.py tells, as JSON: mm, z up.
//   Again with another text shows that one, turned as the one before. `turned(degrees)` hears how it is
//   turned. What it returns is turned to so many degrees by turn(degrees).
// - Triangles are painted from the farthest to the nearest, each in one tone. Printed, cloth and figure are
//   white, with a little grey where they are turned away.
{
  const SKIN = "#d9c9b6";
  const DARKEST = 0.45, LIGHTEST = 1.18; // of the cloth's colour, as in drafting/worn/views.py
  const PALEST = 0.72; // of white, in print
  const LIGHT = [-0.35, -0.75, 0.56]; // to the right, away, up, of whoever looks
  const BEHIND = 28, BEFORE = 14; // mm: the figure lies behind its cloth, seams before theirs
  const TONES = 24;
  const MARGIN = 40; // mm
  const A_FINGER = 0.6; // degrees for each pixel it moves
  const KEYS = { ArrowLeft: -15, ArrowDown: -15, PageDown: -45, ArrowRight: 15, ArrowUp: 15, PageUp: 45 };
  const SIDES = { Home: 0, End: 180 };
  const known = new WeakMap();

  const tonesOf = (colour, darkest, lightest) => {
    const base = [1, 3, 5].map((i) => parseInt(colour.slice(i, i + 2), 16));
    return Array.from({ length: TONES }, (_, i) => {
      const factor = darkest + ((lightest - darkest) * i) / (TONES - 1);
      return `rgb(${base.map((part) => Math.min(255, Math.round(part * factor))).join(" ")})`;
    });
  };

  // Each triangle's normal, of those about it: twice the mean of its corners', each the mean of its triangles'.
  const normalsOf = (points, faces) => {
    const found = new Float32Array(faces.length);
    for (let f = 0; f < faces.length; f += 3) {
      const [a, b, c] = [faces[f] * 3, faces[f + 1] * 3, faces[f + 2] * 3];
      const [ux, uy, uz] = [0, 1, 2].map((k) => points[b + k] - points[a + k]);
      const [vx, vy, vz] = [0, 1, 2].map((k) => points[c + k] - points[a + k]);
      found.set([uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx], f);
    }
    return evened(evened(found, points, faces), points, faces);
  };

  const evened = (normals, points, faces) => {
    const at = new Float32Array(points.length);
    faces.forEach((point, i) => {
      const f = i - (i % 3);
      for (let k = 0; k < 3; k++) at[point * 3 + k] += normals[f + k];
    });
    for (let p = 0; p < at.length; p += 3) {
      const size = Math.hypot(at[p], at[p + 1], at[p + 2]) || 1;
      for (let k = 0; k < 3; k++) at[p + k] /= size;
    }
    return normals.map((_, i) => {
      const f = i - (i % 3), k = i % 3;
      return (at[faces[f] * 3 + k] + at[faces[f + 1] * 3 + k] + at[faces[f + 2] * 3 + k]) / 3;
    });
  };

  const read = (text) => {
    const { cloth, figure, lines, colour, frame } = JSON.parse(text);
    const shown = [[figure, SKIN, BEHIND], [cloth, colour, 0]].map(([{ points, triangles }, tint, back]) => ({
      points, faces: triangles, tint, back, normals: normalsOf(points, triangles),
    }));
    let wide = 0;
    for (const { points } of shown) {
      for (let p = 0; p < points.length; p += 3) {
        wide = Math.max(wide, Math.hypot(points[p], points[p + 1]));
      }
    }
    return { shown, lines, colour, wide: wide + MARGIN, low: frame[0] - MARGIN, top: frame[1] + MARGIN };
  };

  const turned = (points, c, s) => {
    const at = new Float32Array(points.length); // right, up, away
    for (let p = 0; p < points.length; p += 3) {
      at[p] = points[p] * c + points[p + 1] * s;
      at[p + 1] = points[p + 2];
      at[p + 2] = points[p + 1] * c - points[p] * s;
    }
    return at;
  };

  const paint = (canvas, { seen, degrees, printed }) => {
    const { shown, lines, wide, low, top } = seen;
    const ratio = Math.min(2, window.devicePixelRatio || 1) * (printed ? 2 : 1);
    const across = canvas.clientWidth || 320;
    const scale = (across * ratio) / (2 * wide);
    canvas.width = Math.round(across * ratio);
    canvas.height = Math.round((top - low) * scale);
    const pen = canvas.getContext("2d");
    pen.fillStyle = "#fff";
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.lineJoin = pen.lineCap = "round";
    const turn = (degrees * Math.PI) / 180;
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    const x = (at, p) => (wide + at[p]) * scale;
    const y = (at, p) => (top - at[p + 1]) * scale;
    const things = [];
    for (const { points, faces, tint, back, normals } of shown) {
      const at = turned(points, c, s);
      const facing = turned(normals, c, s);
      const tones = printed ? tonesOf("#ffffff", PALEST, 1) : tonesOf(tint, DARKEST, LIGHTEST);
      for (let f = 0; f < faces.length; f += 3) {
        const [i, j, k] = [faces[f] * 3, faces[f + 1] * 3, faces[f + 2] * 3];
        const away = facing[f + 2];
        if (back && away > 0.2) continue; // the figure's far side
        const sign = away > 0 ? -1 : 1;
        const lit = sign * (LIGHT[0] * facing[f] + LIGHT[1] * away + LIGHT[2] * facing[f + 1]);
        const tone = tones[Math.max(0, Math.min(TONES - 1, Math.floor((0.5 + 0.5 * lit) * (TONES - 1))))];
        things.push([(at[i + 2] + at[j + 2] + at[k + 2]) / 3 + back, tone, at, i, j, k]);
      }
    }
    for (const { look, points } of lines) {
      const at = turned(points, c, s);
      for (let p = 0; p + 5 < at.length; p += 3) {
        things.push([(at[p + 2] + at[p + 5]) / 2 - BEFORE, look, at, p, p + 3, -1]);
      }
    }
    things.sort((one, other) => other[0] - one[0]);
    for (const [, look, at, i, j, k] of things) {
      pen.beginPath();
      pen.moveTo(x(at, i), y(at, i));
      pen.lineTo(x(at, j), y(at, j));
      if (k < 0) {
        pen.lineWidth = (look === "t" ? 14 : 3) * scale;
        pen.strokeStyle = look === "t" ? (printed ? "#777" : "#5b5044") : look === "h" ? "#000a" : "#0007";
        pen.stroke();
        continue;
      }
      pen.lineTo(x(at, k), y(at, k));
      pen.closePath();
      pen.fillStyle = pen.strokeStyle = look;
      pen.lineWidth = 1; // or light would show between them
      pen.fill();
      pen.stroke();
    }
  };

  const begin = (canvas) => {
    const state = { seen: null, degrees: 0, printed: false, heard: null, asked: 0 };
    const soon = () => {
      state.asked ||= requestAnimationFrame(() => {
        state.asked = 0;
        paint(canvas, state);
      });
    };
    state.turn = (degrees) => {
      state.degrees = ((degrees % 360) + 360) % 360;
      state.heard?.(Math.round(state.degrees));
      soon();
    };
    let from = null;
    canvas.addEventListener("pointerdown", (event) => {
      from = [event.clientX, state.degrees];
      canvas.setPointerCapture(event.pointerId);
    });
    canvas.addEventListener("pointermove", (event) => {
      if (from) state.turn(from[1] - (event.clientX - from[0]) * A_FINGER);
    });
    for (const over of ["pointerup", "pointercancel"]) canvas.addEventListener(over, () => (from = null));
    canvas.addEventListener("keydown", (event) => {
      if (!(event.key in KEYS || event.key in SIDES)) return;
      event.preventDefault();
      state.turn(SIDES[event.key] ?? state.degrees + KEYS[event.key]);
    });
    for (const [name, printed] of [["beforeprint", true], ["afterprint", false]]) {
      window.addEventListener(name, () => paint(canvas, Object.assign(state, { printed })));
    }
    window.addEventListener("resize", soon);
    return state;
  };

  ellwand.turning = (canvas, text, heard) => {
    if (!known.has(canvas)) known.set(canvas, begin(canvas));
    const state = known.get(canvas);
    Object.assign(state, { seen: read(text), heard });
    paint(canvas, state);
    return state;
  };
}
