// Plays the motion of a step where its picture stands. The page holds everything that is needed;
// nothing is fetched. Without this script the pictures stay as they are.
"use strict";

(() => {
  const SVG = "http://www.w3.org/2000/svg";
  const LIGHT = [-0.42, 0.8, 0.43].map((v) => v / Math.hypot(0.42, 0.8, 0.43));
  const MOMENT_MS = 55;
  const REST_MS = 900;
  const LAYER_MM = 1.2; // papers whose order is known lie nearer than this
  const calm = window.matchMedia("(prefers-reduced-motion: reduce)");

  // Poses are 12 figures: rows of the rotation, then the shift.
  const apply = (p, [x, y, z]) => [
    p[0] * x + p[1] * y + p[2] * z + p[9],
    p[3] * x + p[4] * y + p[5] * z + p[10],
    p[6] * x + p[7] * y + p[8] * z + p[11],
  ];
  const after = (a, b) => {
    const found = [];
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++)
        found.push(a[3 * i] * b[j] + a[3 * i + 1] * b[3 + j] + a[3 * i + 2] * b[6 + j]);
    return [...found, ...apply(a, [b[9], b[10], b[11]])];
  };
  const turn = (origin, axis, deg) => {
    const [x, y, z] = axis.map((v) => v / Math.hypot(...axis));
    const c = Math.cos((deg * Math.PI) / 180), s = Math.sin((deg * Math.PI) / 180), k = 1 - c;
    const r = [c + x * x * k, x * y * k - z * s, x * z * k + y * s,
      y * x * k + z * s, c + y * y * k, y * z * k - x * s,
      z * x * k - y * s, z * y * k + x * s, c + z * z * k, 0, 0, 0];
    const o = apply(r, origin);
    return [...r.slice(0, 9), origin[0] - o[0], origin[1] - o[1], origin[2] - o[2]];
  };
  const at = (values, k) => values[Math.min(k, values.length - 1)];
  const between = (values, t) => {
    const k = Math.floor(t), a = at(values, k), b = at(values, k + 1), part = t - k;
    return Array.isArray(a) ? a.map((v, i) => v + (b[i] - v) * part) : a + (b - a) * part;
  };

  // Every facet of the clip at a moment, on paper: rings of [x, y, nearness].
  const facetsAt = (clip, t) => {
    const [ax, bx, cx, ay, by, cy, an, bn, cn] = clip.axes;
    const scale = Math.hypot(ax, bx, cx);
    const found = [];
    clip.bodies.forEach((body, bodyAt) => {
      const poses = [];
      const pose = (k) => {
        if (poses[k]) return poses[k];
        const hang = body.facets[k].hang;
        poses[k] = hang
          ? after(pose(hang.on), turn(hang.origin, hang.axis, between(body.angles[hang.fold], t)))
          : between(body.roots, t);
        return poses[k];
      };
      body.facets.forEach((facet, k) => {
        const p = pose(k);
        const rings = facet.rings.map((ring) => {
          const points = [];
          for (let i = 0; i < ring.length; i += 2) {
            const [x, y, z] = apply(p, [ring[i], -ring[i + 1], 0]);
            points.push([ax * x + bx * y + cx * z, ay * x + by * y + cy * z, an * x + bn * y + cn * z]);
          }
          return points;
        });
        const n = [p[2], p[5], p[8]];
        const seen = [ax * n[0] + bx * n[1] + cx * n[2], -(ay * n[0] + by * n[1] + cy * n[2]),
          an * n[0] + bn * n[1] + cn * n[2]].map((v) => v / scale);
        const front = seen[2] >= 0;
        const lit = seen.reduce((sum, v, i) => sum + v * LIGHT[i], 0) * (front ? 1 : -1);
        const shade = Math.min(1, Math.max(0, (0.92 - lit) / 1.35));
        const colours = body.colours[(facet.moving ? 2 : 0) + (front ? 0 : 1)];
        found.push({
          body: bodyAt, facet: k, rings, front, moving: facet.moving,
          colour: colours[Math.round(shade * (colours.length - 1))],
          edge: Math.abs(seen[2]) < 0.02,
          near: plane(p, clip.axes),
          box: [Math.min(...rings[0].map((q) => q[0])), Math.min(...rings[0].map((q) => q[1])),
            Math.max(...rings[0].map((q) => q[0])), Math.max(...rings[0].map((q) => q[1]))],
          depth: rings[0].reduce((sum, q) => sum + q[2], 0) / rings[0].length,
        });
      });
    });
    return found;
  };

  // Nearness of a facet as a function of the place on paper, by Cramer's rule.
  const plane = (p, axes) => {
    const column = (i, sign) => [0, 3, 6].map((row) =>
      sign * (axes[row] * p[i] + axes[row + 1] * p[3 + i] + axes[row + 2] * p[6 + i]));
    const [a, c, e] = column(0, 1), [b, d, f] = column(1, -1);
    const shift = [0, 3, 6].map((row) => axes[row] * p[9] + axes[row + 1] * p[10] + axes[row + 2] * p[11]);
    const whole = a * d - b * c;
    const along = (e * d - f * c) / whole, down = (f * a - e * b) / whole;
    return (x, y) => along * (x - shift[0]) + down * (y - shift[1]) + shift[2];
  };

  // The part of one ring within another (taken as convex), by Sutherland and Hodgman.
  const within = (ring, other) => {
    let kept = ring, area = 0;
    for (let i = 0; i < other.length; i++) {
      const [x0, y0] = other[i], [x1, y1] = other[(i + 1) % other.length];
      area += x0 * y1 - x1 * y0;
    }
    const sign = area >= 0 ? 1 : -1;
    for (let i = 0; i < other.length && kept.length; i++) {
      const [x0, y0] = other[i], [x1, y1] = other[(i + 1) % other.length];
      const side = ([x, y]) => sign * ((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0));
      const next = [];
      kept.forEach((q, j) => {
        const r = kept[(j + 1) % kept.length], a = side(q), b = side(r);
        if (a >= 0) next.push(q);
        if ((a >= 0) !== (b >= 0)) {
          const part = a / (a - b);
          next.push([q[0] + (r[0] - q[0]) * part, q[1] + (r[1] - q[1]) * part]);
        }
      });
      kept = next;
    }
    return kept;
  };

  // Far ones first. Where two overlap, the one that is nearer there is painted later; of two in
  // one plane the order in which they lie decides.
  const painted = (facets, layers) => {
    const shown = facets.filter((f) => !f.edge).sort((a, b) => a.depth - b.depth);
    const later = shown.map(() => []), waits = shown.map(() => 0);
    const key = (a, b) => `${a.body}.${a.facet}.${b.body}.${b.facet}`;
    for (let i = 0; i < shown.length; i++)
      for (let j = 0; j < i; j++) {
        const a = shown[i], b = shown[j];
        if (a.box[0] >= b.box[2] || b.box[0] >= a.box[2] || a.box[1] >= b.box[3] || b.box[1] >= a.box[3]) continue;
        const both = within(a.rings[0], b.rings[0]);
        if (both.length < 3) continue;
        let area = 0;
        both.forEach(([x, y], k) => {
          const [u, v] = both[(k + 1) % both.length];
          area += x * v - u * y;
        });
        if (Math.abs(area) < 0.1) continue;
        const x = both.reduce((s, q) => s + q[0], 0) / both.length;
        const y = both.reduce((s, q) => s + q[1], 0) / both.length;
        const gap = a.near(x, y) - b.near(x, y);
        let aLast = gap > 0;
        const known = layers.get(key(a, b)), turned = layers.get(key(b, a));
        if (Math.abs(gap) < LAYER_MM && known !== undefined) aLast = known > 0 !== a.front;
        else if (Math.abs(gap) < LAYER_MM && turned !== undefined) aLast = turned > 0 === b.front;
        else if (Math.abs(gap) < 1e-3) continue;
        const [first, last] = aLast ? [j, i] : [i, j];
        later[first].push(last);
        waits[last] += 1;
      }
    const order = [], left = new Set(shown.keys());
    while (left.size) {
      // where they wait for each other in a circle the farthest goes first
      const next = [...left].find((k) => waits[k] === 0) ?? [...left][0];
      left.delete(next);
      order.push(shown[next]);
      later[next].forEach((k) => { waits[k] -= 1; });
    }
    return order;
  };

  const layersOf = (pairs) => new Map(pairs.map(([b, f, c, g, side]) => [`${b}.${f}.${c}.${g}`, side]));

  const player = (holder) => {
    const clip = JSON.parse(holder.querySelector("script").textContent);
    const figure = holder.closest("figure");
    const picture = figure.querySelector("img");
    const [play, scrub] = [holder.querySelector("button"), holder.querySelector("input")];
    const layers = clip.above.map(layersOf);
    const last = clip.moments - 1;
    let drawing = null, timer = 0, started = 0;

    const draw = (t) => {
      if (!drawing) {
        drawing = document.createElementNS(SVG, "svg");
        drawing.setAttribute("viewBox", clip.box.join(" "));
        drawing.setAttribute("class", "moving");
        drawing.setAttribute("role", "img");
        drawing.setAttribute("aria-label", picture.alt);
        const pxPerMm = picture.width / Number(holder.dataset.width);
        drawing.setAttribute("width", String(clip.box[2] * pxPerMm));
        picture.after(drawing);
      }
      drawing.replaceChildren(...painted(facetsAt(clip, t), layers[t < last ? 0 : 1]).map((f) => {
        const path = document.createElementNS(SVG, "path");
        path.setAttribute("d", f.rings.map((ring) =>
          `M${ring.map((q) => `${q[0].toFixed(2)} ${q[1].toFixed(2)}`).join("L")}Z`).join(""));
        path.setAttribute("fill", f.colour);
        path.setAttribute("fill-rule", "evenodd");
        return path;
      }));
      picture.hidden = true;
      drawing.style.display = "";
    };
    const rest = () => {
      cancelAnimationFrame(timer);
      timer = 0;
      play.textContent = play.dataset.play;
    };
    const still = () => {
      rest();
      picture.hidden = false;
      if (drawing) drawing.style.display = "none";
    };
    const step = (now) => {
      const whole = last * MOMENT_MS + REST_MS;
      const t = Math.min(last, ((now - started) % whole) / MOMENT_MS);
      scrub.value = String(t);
      draw(t);
      timer = requestAnimationFrame(step);
    };
    play.addEventListener("click", () => {
      if (timer) { rest(); return; }
      const from = Number(scrub.value);
      started = performance.now() - (from < last ? from : 0) * MOMENT_MS;
      play.textContent = play.dataset.pause;
      timer = requestAnimationFrame(step);
    });
    scrub.addEventListener("input", () => {
      rest();
      const t = Number(scrub.value);
      if (t > 0) draw(t); else still();
    });
    holder.addEventListener("keydown", (event) => {
      if (event.key === "Escape") { scrub.value = "0"; still(); }
    });
    const settle = () => { play.hidden = calm.matches; if (calm.matches) rest(); };
    calm.addEventListener("change", settle);
    settle();
    holder.hidden = false;
  };

  document.querySelectorAll(".motion").forEach(player);
})();
