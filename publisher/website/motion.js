// Plays the motion of a step where its picture stands. The page holds everything that is needed;
// nothing is fetched. Without this script the pictures stay as they are.
"use strict";

(() => {
  const SVG = "http://www.w3.org/2000/svg";
  const LIGHT = [-0.42, 0.8, 0.43].map((v) => v / Math.hypot(0.42, 0.8, 0.43));
  const MOMENT_MS = 55;
  const REST_MS = 900;
  const LAYER_MM = 1.2; // papers whose order is known lie nearer than this
  const LINE_MM = 0.05;
  const THROUGH_MM = 0.3; // of two papers each is nearer somewhere by more than this: they cross
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

  // Every facet of the clip at a moment, on paper: rings of [x, y, nearness]. A corner with a
  // fourth figure begins an edge along which no line is drawn.
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
          body: bodyAt, facet: k, rings, front, bends: facet.bends, parted: facet.bends.length > 0,
          colour: colours[Math.round(shade * (colours.length - 1))],
          edge: Math.abs(seen[2]) < 0.02,
          near: plane(p, clip.axes),
          box: boxOf(rings[0]),
          depth: rings[0].reduce((sum, q) => sum + q[2], 0) / rings[0].length,
        });
      });
      // paper that bends has a line only where it turns away from the eye
      const own = found.slice(-body.facets.length);
      for (const facet of own)
        for (const [corner, beyond] of facet.bends)
          if (own[beyond].front === facet.front) facet.rings[0][corner].push(true);
    });
    return found;
  };

  // Nearness of a facet as a x + b y + c of the place on paper, by Cramer's rule.
  const plane = (p, axes) => {
    const column = (i, sign) => [0, 3, 6].map((row) =>
      sign * (axes[row] * p[i] + axes[row + 1] * p[3 + i] + axes[row + 2] * p[6 + i]));
    const [a, c, e] = column(0, 1), [b, d, f] = column(1, -1);
    const shift = [0, 3, 6].map((row) => axes[row] * p[9] + axes[row + 1] * p[10] + axes[row + 2] * p[11]);
    const whole = a * d - b * c;
    const along = (e * d - f * c) / whole, down = (f * a - e * b) / whole;
    return [along, down, shift[2] - along * shift[0] - down * shift[1]];
  };
  const gapOf = (a, b) => {
    const [u, v, w] = a.near.map((n, i) => n - b.near[i]);
    return ([x, y]) => u * x + v * y + w;
  };

  const inside = (rings, [x, y]) => {
    let odd = false;
    for (const ring of rings)
      for (let i = 0, j = ring.length - 1; i < ring.length; j = i, i += 1) {
        const [x0, y0] = ring[j], [x1, y1] = ring[i];
        if (y0 > y !== y1 > y && x < x0 + ((y - y0) / (y1 - y0)) * (x1 - x0)) odd = !odd;
      }
    return odd;
  };
  const edgesIn = (rings, [left, top, right, bottom]) => {
    const found = [];
    for (const ring of rings)
      for (let i = 0, j = ring.length - 1; i < ring.length; j = i, i += 1) {
        const q = ring[j], r = ring[i];
        if (Math.max(q[0], r[0]) >= left && Math.min(q[0], r[0]) <= right &&
          Math.max(q[1], r[1]) >= top && Math.min(q[1], r[1]) <= bottom) found.push([q, r]);
      }
    return found;
  };

  // The corners of what two facets have in common on paper: those of each within the other, and
  // where their edges cross.
  const corners = (a, b) => {
    const box = [Math.max(a.box[0], b.box[0]), Math.max(a.box[1], b.box[1]),
      Math.min(a.box[2], b.box[2]), Math.min(a.box[3], b.box[3])];
    if (box[0] >= box[2] || box[1] >= box[3]) return [];
    const own = edgesIn(a.rings, box), others = edgesIn(b.rings, box), found = [];
    const there = ([x, y]) => x >= box[0] && x <= box[2] && y >= box[1] && y <= box[3];
    for (const [q] of own) if (there(q) && inside(b.rings, q)) found.push(q);
    for (const [q] of others) if (there(q) && inside(a.rings, q)) found.push(q);
    for (const [q, r] of own)
      for (const [m, n] of others) {
        const x = r[0] - q[0], y = r[1] - q[1], u = n[0] - m[0], v = n[1] - m[1];
        const whole = x * v - y * u;
        if (Math.abs(whole) < 1e-9) continue;
        const s = ((m[0] - q[0]) * v - (m[1] - q[1]) * u) / whole;
        const t = ((m[0] - q[0]) * y - (m[1] - q[1]) * x) / whole;
        if (s >= 0 && s <= 1 && t >= 0 && t <= 1) found.push([q[0] + x * s, q[1] + y * s]);
      }
    return found;
  };
  // The area round points, by Andrew's monotone chain.
  const areaRound = (points) => {
    const sorted = [...points].sort((p, q) => p[0] - q[0] || p[1] - q[1]);
    let area = 0;
    for (const way of [sorted, [...sorted].reverse()]) {
      const chain = [];
      for (const r of way) {
        while (chain.length > 1) {
          const [p, q] = chain.slice(-2);
          if ((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]) > 0) break;
          chain.pop();
        }
        chain.push(r);
      }
      for (let i = 1; i < chain.length; i += 1)
        area += (chain[i - 1][0] * chain[i][1] - chain[i][0] * chain[i - 1][1]) / 2;
    }
    return area;
  };

  // A facet that shows its edge only is a line: it is over another where its places are nearer.
  const alongEdge = (line, other) => {
    const ring = line.rings[0];
    const middles = ring.map((q, i) => q.map((v, n) => (v + ring[(i + 1) % ring.length][n]) / 2));
    const [u, v, w] = other.near;
    const over = [...ring, ...middles].filter((q) => inside(other.rings, q))
      .reduce((sum, [x, y, near]) => sum + near - (u * x + v * y + w), 0);
    return Math.abs(over) < LINE_MM ? 0 : Math.sign(over);
  };

  // Of two facets: 1 where the first is painted last, -1 where the other is, 0 where it is all
  // one, NaN where they cross. Of papers that lie on each other their known order decides.
  const relation = (a, b, layers) => {
    if (a.edge) return b.edge ? 0 : alongEdge(a, b);
    if (b.edge) return -alongEdge(b, a);
    const both = corners(a, b);
    if (both.length < 3 || areaRound(both) < 0.05) return 0;
    const gaps = both.map(gapOf(a, b));
    const least = Math.min(...gaps), most = Math.max(...gaps);
    const mean = gaps.reduce((sum, gap) => sum + gap, 0) / gaps.length;
    if (Math.abs(mean) < LAYER_MM) {
      const known = layers.get(`${a.body}.${a.facet}.${b.body}.${b.facet}`);
      if (known !== undefined) return known > 0 !== a.front ? 1 : -1;
      const turned = layers.get(`${b.body}.${b.facet}.${a.body}.${a.facet}`);
      if (turned !== undefined) return turned > 0 === b.front ? 1 : -1;
    }
    if (least < -THROUGH_MM && most > THROUGH_MM) return NaN;
    return Math.max(most, -least) < 1e-3 ? 0 : Math.sign(most + least);
  };

  const boxOf = (ring) => {
    const xs = ring.map((q) => q[0]), ys = ring.map((q) => q[1]);
    return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
  };
  // A facet in two where a gap changes its sign.
  const cut = (facet, gap) => [1, -1].map((sign) => {
    const rings = facet.rings.map((ring) => {
      const kept = [];
      ring.forEach((q, i) => {
        const r = ring[(i + 1) % ring.length], a = sign * gap(q), b = sign * gap(r);
        if (a >= 0) kept.push(q);
        if (a >= 0 !== b >= 0) {
          const part = a / (a - b), middle = [0, 1, 2].map((n) => q[n] + (r[n] - q[n]) * part);
          kept.push([...middle, a >= 0 || q[3]]);
        }
      });
      return kept;
    }).filter((ring) => ring.length > 2);
    return { ...facet, rings, parted: true, box: boxOf(rings[0]) };
  });
  const crosses = (facet, gap) => {
    if (facet.edge) return false;
    const gaps = facet.rings[0].map(gap);
    return Math.min(...gaps) < -THROUGH_MM && Math.max(...gaps) > THROUGH_MM;
  };

  // Far ones first, so that each is painted before what is nearer where both are. Papers that
  // cross are parted where they do; so is one of those that lie round in a circle, each over the
  // next.
  const painted = (facets, layers) => {
    const known = new Map();
    const told = (a, b) => {
      if (!known.has(a)) known.set(a, new Map());
      const own = known.get(a);
      if (!own.has(b)) own.set(b, relation(a, b, layers));
      return own.get(b);
    };
    let shown = [];
    const waiting = [...facets].sort((a, b) => a.depth - b.depth);
    let spare = 3 * waiting.length;
    while (waiting.length) {
      const one = waiting.shift();
      const through = spare > 0 && shown.find((other) => Number.isNaN(told(one, other)));
      if (through && crosses(one, gapOf(one, through))) {
        spare -= 1;
        waiting.unshift(...cut(one, gapOf(one, through)));
      } else shown.push(one);
    }
    for (;;) {
      const later = shown.map(() => []), before = shown.map(() => new Set());
      for (let i = 0; i < shown.length; i += 1)
        for (let j = 0; j < i; j += 1) {
          const side = told(shown[i], shown[j]);
          if (!side) continue;
          const [first, last] = side > 0 ? [j, i] : [i, j];
          later[first].push(last);
          before[last].add(first);
        }
      const order = [], left = new Set(shown.keys());
      let parted = null;
      while (left.size && !parted) {
        let next = [...left].find((k) => !before[k].size);
        if (next === undefined) {
          if (spare > 0) parted = roundAbout([...left][0], before, shown);
          [next] = left; // where none of them can be parted the farthest goes first
        }
        left.delete(next);
        order.push(shown[next]);
        later[next].forEach((k) => before[k].delete(next));
      }
      if (!parted) return order;
      spare -= 1;
      shown = shown.flatMap((f) => (f === parted[0] ? parted[1] : [f]));
    }
  };
  // A facet that waits for others in a circle, and its two parts on the sides of another of them.
  const roundAbout = (start, before, shown) => {
    const way = [start];
    for (;;) {
      const [next] = before[way.at(-1)];
      if (way.includes(next)) {
        way.splice(0, way.indexOf(next));
        break;
      }
      way.push(next);
    }
    for (const a of way.map((k) => shown[k]))
      for (const b of way.map((k) => shown[k]))
        if (a !== b && crosses(a, gapOf(a, b))) return [a, cut(a, gapOf(a, b))];
    return null;
  };

  const line = (points) => `M${points.map((q) => `${q[0].toFixed(2)} ${q[1].toFixed(2)}`).join("L")}`;
  const path = (data, fill) => {
    const made = document.createElementNS(SVG, "path");
    made.setAttribute("d", data);
    made.setAttribute("fill", fill);
    made.setAttribute("fill-rule", "evenodd");
    return made;
  };
  // A facet as one path; one with edges that have no line as its face and, over it, the others.
  const pathsOf = (facet) => {
    const face = path(facet.rings.map((ring) => `${line(ring)}Z`).join(""), facet.colour);
    face.dataset.of = `${facet.body} ${facet.facet}`;
    if (!facet.parted) return [face];
    face.style.strokeWidth = "0.1";
    face.style.stroke = facet.colour; // reaches under what is beside, so that no crack is left
    const edges = facet.rings.flatMap((ring) =>
      ring.flatMap((q, i) => (q[3] ? [] : [line([q, ring[(i + 1) % ring.length]])])));
    return [face, path(edges.join(""), "none")];
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
      drawing.replaceChildren(...painted(facetsAt(clip, t), layers[t < last ? 0 : 1]).flatMap(pathsOf));
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
