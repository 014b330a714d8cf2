// Points clicked on two photos, the one laid on the other at once, and the lines for the record.
(function () {
  "use strict";

  var LEAST = 4, ZOOM = 4, FAR_OFF = 4, REACH = 12;  // pairs; times; pixels of the photo; pixels of the screen
  var SVG = "http://www.w3.org/2000/svg";
  var pairs = window.proofPairs || [];
  var here = null, points = [], chosen = -1;
  var byId = function (id) { return document.getElementById(id); };

  // The eight unknowns of a plane homography by least squares (direct linear transform), both sides normalised first.
  function normaliser(dots) {
    var n = dots.length, cx = 0, cy = 0, away = 0;
    dots.forEach(function (d) { cx += d[0] / n; cy += d[1] / n; });
    dots.forEach(function (d) { away += Math.hypot(d[0] - cx, d[1] - cy) / n; });
    var s = Math.SQRT2 / (away || 1);
    return [[s, 0, -s * cx], [0, s, -s * cy], [0, 0, 1]];
  }

  function times(a, b) {
    return a.map(function (row) {
      return [0, 1, 2].map(function (k) { return row[0] * b[0][k] + row[1] * b[1][k] + row[2] * b[2][k]; });
    });
  }

  function inverse(m) {
    var a = m[0][0], b = m[0][1], c = m[0][2], d = m[1][0], e = m[1][1], f = m[1][2], g = m[2][0], h = m[2][1], i = m[2][2];
    var det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
    return [[e * i - f * h, c * h - b * i, b * f - c * e], [f * g - d * i, a * i - c * g, c * d - a * f],
      [d * h - e * g, b * g - a * h, a * e - b * d]].map(function (row) { return row.map(function (v) { return v / det; }); });
  }

  function at(m, d) {
    var w = m[2][0] * d[0] + m[2][1] * d[1] + m[2][2];
    return [(m[0][0] * d[0] + m[0][1] * d[1] + m[0][2]) / w, (m[1][0] * d[0] + m[1][1] * d[1] + m[1][2]) / w];
  }

  function solved(rows, right) {
    var n = right.length, a = rows.map(function (row, i) { return row.concat(right[i]); });
    for (var k = 0; k < n; k += 1) {
      var best = k;
      for (var r = k + 1; r < n; r += 1) { if (Math.abs(a[r][k]) > Math.abs(a[best][k])) { best = r; } }
      if (Math.abs(a[best][k]) < 1e-9) { return null; }
      var kept = a[k]; a[k] = a[best]; a[best] = kept;
      for (r = 0; r < n; r += 1) {
        if (r === k) { continue; }
        var part = a[r][k] / a[k][k];
        for (var c = k; c <= n; c += 1) { a[r][c] -= part * a[k][c]; }
      }
    }
    return a.map(function (row, i) { return row[n] / row[i]; });
  }

  function homography(from, to) {
    var before = normaliser(from), after = normaliser(to), normal = [], right = [];
    for (var i = 0; i < 8; i += 1) { normal.push([0, 0, 0, 0, 0, 0, 0, 0]); right.push(0); }
    from.forEach(function (dot, n) {
      var p = at(before, dot), q = at(after, to[n]), x = p[0], y = p[1];
      [[[x, y, 1, 0, 0, 0, -x * q[0], -y * q[0]], q[0]], [[0, 0, 0, x, y, 1, -x * q[1], -y * q[1]], q[1]]].forEach(function (line) {
        for (var r = 0; r < 8; r += 1) {
          right[r] += line[0][r] * line[1];
          for (var c = 0; c < 8; c += 1) { normal[r][c] += line[0][r] * line[0][c]; }
        }
      });
    });
    var h = solved(normal, right);
    if (!h) { return null; }
    return times(inverse(after), times([[h[0], h[1], h[2]], [h[3], h[4], h[5]], [h[6], h[7], 1]], before));
  }

  function whole() { return points.filter(function (p) { return p.framed && p.finished; }); }

  function found() {
    var ready = whole();
    if (ready.length < LEAST) { return null; }
    return homography(ready.map(function (p) { return p.framed; }), ready.map(function (p) { return p.finished; }));
  }

  function drawDots(side) {
    var svg = byId(side).querySelector("svg"), size = here[side];
    svg.setAttribute("viewBox", "0 0 " + size.width + " " + size.height);
    var scale = size.width / byId(side).clientWidth;
    svg.replaceChildren();
    points.forEach(function (point, n) {
      if (!point[side]) { return; }
      var group = document.createElementNS(SVG, "g");
      if (n === chosen) { group.setAttribute("class", "chosen"); }
      group.setAttribute("transform", "translate(" + point[side].join(" ") + ") scale(" + scale + ")");
      ["dot", "dot-in"].forEach(function (name) {
        var ring = document.createElementNS(SVG, "circle");
        ring.setAttribute("class", name); ring.setAttribute("r", "7");
        group.appendChild(ring);
      });
      var label = document.createElementNS(SVG, "text");
      label.setAttribute("class", "dot-name"); label.setAttribute("x", "10"); label.setAttribute("y", "-6");
      label.textContent = String(n + 1);
      group.appendChild(label);
      svg.appendChild(group);
    });
  }

  function lay(m) {
    var image = byId("laid").querySelector("img + img"), scale = byId("laid").clientWidth / here.finished.width;
    image.hidden = !m;
    if (!m) { return; }
    // From pixels of the framed copy to pixels of the photo, onto the finished one, to pixels of the screen.
    var up = here.framed.width / image.naturalWidth;
    var t = times([[scale, 0, 0], [0, scale, 0], [0, 0, 1]], times(m, [[up, 0, 0], [0, up, 0], [0, 0, 1]]));
    var v = [t[0][0], t[1][0], 0, t[2][0], t[0][1], t[1][1], 0, t[2][1], 0, 0, 1, 0, t[0][2], t[1][2], 0, t[2][2]];
    image.style.transform = "matrix3d(" + v.map(function (x) { return (x / t[2][2]).toFixed(9); }).join(",") + ")";
    image.style.opacity = String(byId("fade").value / 100);
  }

  function off(point, m) {
    if (!m || !point.framed || !point.finished) { return null; }
    var there = at(m, point.framed);
    return Math.hypot(there[0] - point.finished[0], there[1] - point.finished[1]);
  }

  function list(m) {
    var rows = byId("rows");
    rows.replaceChildren();
    points.forEach(function (point, n) {
      var row = rows.insertRow(), name = document.createElement("input"), miss = off(point, m);
      row.insertCell().textContent = String(n + 1);
      name.value = point.what;
      name.setAttribute("aria-label", "What pair " + (n + 1) + " is");
      name.addEventListener("input", function () { point.what = name.value; write(); });
      name.addEventListener("focus", function () { chosen = n; ["framed", "finished"].forEach(drawDots); });
      row.insertCell().appendChild(name);
      ["framed", "finished"].forEach(function (side) {
        row.insertCell().textContent = point[side] ? point[side].map(Math.round).join(", ") : "click it";
      });
      var cell = row.insertCell();
      cell.textContent = miss === null ? "" : miss.toFixed(1) + " px";
      if (miss !== null && miss > FAR_OFF) { cell.className = "bad"; }
    });
  }

  function quoted(text) { return /^[A-Za-z][\w './-]*$/.test(text) ? text : JSON.stringify(text); }

  function write() {
    var lines = ["    - framed: " + quoted(here.framed.file), "      finished: " + quoted(here.finished.file), "      pairs:"];
    whole().forEach(function (point, n) {
      var what = quoted(point.what || "point " + (n + 1));
      var dots = ["framed", "finished"].map(function (side) { return side + ": [" + point[side].map(Math.round).join(", ") + "]"; });
      lines.push("        - {what: " + what + ", " + dots.join(", ") + "}");
    });
    byId("lines").value = lines.join("\n") + "\n";
  }

  function show() {
    var m = found(), ready = whole();
    ["framed", "finished"].forEach(drawDots);
    lay(m);
    list(m);
    write();
    if (ready.length < LEAST) {
      byId("verdict").textContent = (LEAST - ready.length) + " more to go, then the one is laid on the other.";
    } else if (!m) {
      byId("verdict").textContent = "These points lie on one line; take one that stands well off it.";
    } else {
      var worst = Math.max.apply(null, ready.map(function (p) { return off(p, m); }));
      byId("verdict").textContent = ready.length === LEAST
        ? "Four pairs always fit. A fifth shows whether they are right."
        : "The pairs fit to " + worst.toFixed(1) + " px. Fade to and fro: do edges that lie in the face stay where they are?";
    }
  }

  function spot(side, event) {
    var box = byId(side).getBoundingClientRect(), size = here[side];
    return [(event.clientX - box.left) * size.width / box.width, (event.clientY - box.top) * size.height / box.height]
      .map(function (v, k) { return Math.min(Math.max(v, 0), k ? size.height : size.width); });
  }

  function under(side, dot) {
    var near = REACH * here[side].width / byId(side).clientWidth, hit = -1;
    points.forEach(function (p, n) {
      if (p[side] && Math.hypot(p[side][0] - dot[0], p[side][1] - dot[1]) < near) { hit = n; }
    });
    return hit;
  }

  function loupe(side, event) {
    var glass = byId("loupe"), dot = spot(side, event), image = byId(side).querySelector("img");
    var wide = byId(side).clientWidth * ZOOM, k = wide / here[side].width;
    glass.hidden = false;
    glass.style.left = (event.clientX + 24 + 160 > window.innerWidth ? event.clientX - 184 : event.clientX + 24) + "px";
    glass.style.top = Math.max(8, event.clientY - 184) + "px";
    glass.style.backgroundImage = "url(\"" + image.src + "\")";
    glass.style.backgroundSize = wide + "px auto";
    glass.style.backgroundPosition = (80 - dot[0] * k) + "px " + (80 - dot[1] * k) + "px";
  }

  function put(side, dot) {
    var hit = under(side, dot), open = points.findIndex(function (p) { return !p[side]; });
    if (hit >= 0) { chosen = hit; } else if (open >= 0) { points[open][side] = dot; chosen = open; } else {
      var point = { what: "", framed: null, finished: null };
      point[side] = dot;
      points.push(point);
      chosen = points.length - 1;
    }
  }

  function listen(side) {
    var sheet = byId(side), held = false;
    sheet.addEventListener("pointerdown", function (event) {
      put(side, spot(side, event));
      held = true;
      sheet.setPointerCapture(event.pointerId);
      sheet.focus();
      event.preventDefault();
      show();
    });
    sheet.addEventListener("pointermove", function (event) {
      loupe(side, event);
      if (held && points[chosen]) { points[chosen][side] = spot(side, event); show(); }
    });
    ["pointerup", "pointercancel"].forEach(function (name) { sheet.addEventListener(name, function () { held = false; }); });
    sheet.addEventListener("pointerleave", function () { byId("loupe").hidden = true; });
    sheet.addEventListener("keydown", function (event) {
      var by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
      var point = points[chosen];
      if (!point) { return; }
      if (by && point[side]) {
        point[side] = point[side].map(function (v, k) { return v + by[k] * (event.shiftKey ? 10 : 1); });
      } else if (event.key === "Delete" || event.key === "Backspace") {
        points.splice(chosen, 1);
        chosen = -1;
      } else { return; }
      event.preventDefault();
      show();
    });
  }

  function picture(source, name) {
    var image = document.createElement("img");
    image.src = source;
    image.alt = name;
    image.draggable = false;
    image.addEventListener("load", show);
    return image;
  }

  function take(pair) {
    here = pair;
    points = pair.pairs.map(function (one) { return { what: one.what, framed: one.framed, finished: one.finished }; });
    chosen = -1;
    ["framed", "finished"].forEach(function (side) {
      byId(side).replaceChildren(picture(pair[side].source, pair[side].file), document.createElementNS(SVG, "svg"));
    });
    byId("laid").replaceChildren(picture(pair.finished.source, "finished"), picture(pair.framed.source, "framed, laid on it"));
    show();
  }

  if (!pairs.length) {
    byId("guide").textContent = "No record has both a framed and a finished photo yet. List them under photos: and come back.";
    return;
  }
  pairs.forEach(function (pair, n) { byId("pair").add(new Option(pair.name, String(n))); });
  byId("pair").addEventListener("change", function () { take(pairs[Number(byId("pair").value)]); });
  byId("fade").addEventListener("input", show);
  byId("copy").addEventListener("click", function () {
    navigator.clipboard.writeText(byId("lines").value).then(function () {
      byId("copied").textContent = "Copied. Paste them under see through: in photos: of " + here.record + ".";
    }, function () { byId("lines").select(); byId("copied").textContent = "Copy the chosen lines by hand."; });
  });
  window.addEventListener("resize", show);
  ["framed", "finished"].forEach(listen);
  take(pairs[0]);
  window.proofHomography = homography;
}());
