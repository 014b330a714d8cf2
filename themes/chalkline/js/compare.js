// Two pictures laid on one another, to fade or to wipe between: an extra. Without it they stand side by side.
(function () {
  "use strict";

  function wayButton(compare, way, act) {
    var button = document.createElement("button");
    button.type = "button";
    button.textContent = compare.dataset[way];
    button.dataset.way = way;
    button.addEventListener("click", act);
    return button;
  }

  function goLive(compare) {
    var ways = compare.dataset.modes.split(" ");
    var sheet = compare.querySelector(".compare-sheet");
    var controls = document.createElement("div");
    var choice = document.createElement("div");
    var label = document.createElement("label");
    var words = document.createElement("span");
    var slider = document.createElement("input");

    function show() {
      compare.style.setProperty("--part", String(slider.value / 100));
      slider.setAttribute("aria-valuetext", slider.value + " %");
    }

    function take(way) {
      ways.forEach(function (other) { compare.classList.toggle("is-" + other, other === way); });
      Array.prototype.forEach.call(choice.children, function (button) {
        button.setAttribute("aria-pressed", String(button.dataset.way === way));
      });
    }

    function follow(event) {
      var box = sheet.getBoundingClientRect();
      slider.value = String(Math.round(100 * (event.clientX - box.left) / box.width));
      show();
    }

    slider.type = "range";
    slider.min = "0";
    slider.max = "100";
    slider.value = "50";
    slider.addEventListener("input", show);
    words.textContent = compare.dataset.amount;
    label.appendChild(words);
    label.appendChild(slider);
    controls.className = "compare-set";
    if (ways.length > 1) {
      choice.className = "compare-ways";
      choice.setAttribute("role", "group");
      choice.setAttribute("aria-label", compare.dataset.amount);
      ways.forEach(function (way) {
        choice.appendChild(wayButton(compare, way, function () { take(way); }));
      });
      controls.appendChild(choice);
    }
    controls.appendChild(label);
    compare.appendChild(controls);
    compare.classList.add("is-live");
    compare.hidden = false;

    sheet.addEventListener("dragstart", function (event) { event.preventDefault(); });
    sheet.addEventListener("pointerdown", function (event) {
      if (event.button !== 0) { return; }
      if (sheet.setPointerCapture) { sheet.setPointerCapture(event.pointerId); }
      if (event.pointerType === "mouse") { follow(event); }
    });
    sheet.addEventListener("pointermove", function (event) {
      if (event.buttons & 1) { follow(event); }
    });
    take(ways[0]);
    show();
  }

  Array.prototype.forEach.call(document.querySelectorAll(".compare"), goLive);
})();
