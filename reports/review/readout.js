// Reads values off the plots under the pointer, from the points that are on the page.
// Nothing needs it: all that it tells stands in the pictures.
(function () {
  "use strict";
  function numbers(text) { return text.split(" ").map(Number); }
  function digits(v) {
    var size = Math.abs(v);
    return size === 0 ? "0" : v.toFixed(Math.max(0, Math.min(6, 2 - Math.floor(Math.log10(size)))));
  }
  function at(polyline, x) {
    var p = polyline.points;
    for (var i = 1; i < p.numberOfItems; i++) {
      var a = p.getItem(i - 1), b = p.getItem(i);
      if (a.x <= x && x <= b.x) { return b.x === a.x ? b.y : a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x); }
    }
    return null;
  }
  function show(svg, x) {
    var t = numbers(svg.dataset.t), v = numbers(svg.dataset.v);
    x = Math.max(t[2], Math.min(t[3], x));
    svg.shown = x;
    var parts = ["at " + digits(t[0] + (t[1] - t[0]) * (x - t[2]) / (t[3] - t[2])) + " s"];
    svg.querySelectorAll("g.l").forEach(function (line) {
      var y = null;
      line.querySelectorAll("polyline").forEach(function (p) { var found = at(p, x); if (found !== null) { y = found; } });
      if (y !== null) {
        var value = v[0] + (v[1] - v[0]) * (v[2] - y) / (v[2] - v[3]);
        parts.push(line.querySelector("title").textContent.split(": ")[0] + " " + digits(value) + " " + svg.dataset.u);
      }
    });
    var cursor = svg.querySelector(".cursor");
    cursor.innerHTML = "";
    var path = document.createElementNS(svg.namespaceURI, "path");
    path.setAttribute("d", "M" + x + " " + v[3] + "V" + v[2]);
    cursor.appendChild(path);
    svg.parentNode.querySelector(".readout").textContent = parts.join(" · ");
  }
  function hide(svg) {
    svg.querySelector(".cursor").innerHTML = "";
    svg.parentNode.querySelector(".readout").textContent = "";
  }
  document.querySelectorAll("svg.plot").forEach(function (svg) {
    svg.addEventListener("pointermove", function (e) {
      var box = svg.getBoundingClientRect();
      show(svg, (e.clientX - box.left) * svg.viewBox.baseVal.width / box.width);
    });
    svg.addEventListener("pointerleave", function () { hide(svg); });
    svg.addEventListener("keydown", function (e) {
      var step = { ArrowLeft: -1, ArrowRight: 1 }[e.key];
      if (!step) { return; }
      var t = numbers(svg.dataset.t);
      show(svg, (svg.shown === undefined ? t[2] : svg.shown) + step * (t[3] - t[2]) / 100);
      e.preventDefault();
    });
  });
  // What is folded is printed open, also where the style sheet cannot do it.
  var folded = [];
  window.addEventListener("beforeprint", function () {
    folded = Array.from(document.querySelectorAll("details:not([open])"));
    folded.forEach(function (d) { d.open = true; });
  });
  window.addEventListener("afterprint", function () { folded.forEach(function (d) { d.open = false; }); });
})();
