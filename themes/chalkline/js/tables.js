// The register, sorted and searched: an extra. Without it the table is whole and in tag order.
(function () {
  "use strict";

  function each(list, act) {
    Array.prototype.forEach.call(list, act);
  }

  function wordsOf(row, column) {
    return row.cells[column].textContent.trim();
  }

  function sortBy(table, column, header) {
    var body = table.tBodies[0];
    var upward = header.getAttribute("aria-sort") !== "ascending";
    var order = new Intl.Collator(document.documentElement.lang, { numeric: true });
    var rows = Array.prototype.slice.call(body.rows);
    rows.sort(function (one, other) {
      return order.compare(wordsOf(one, column), wordsOf(other, column)) * (upward ? 1 : -1);
    });
    rows.forEach(function (row) { body.appendChild(row); });
    each(header.parentNode.cells, function (cell) { cell.removeAttribute("aria-sort"); });
    header.setAttribute("aria-sort", upward ? "ascending" : "descending");
  }

  function addSorting(table, words) {
    each(table.tHead.rows[0].cells, function (header, column) {
      if (!header.hasAttribute("data-sort")) { return; }
      var button = document.createElement("button");
      button.type = "button";
      button.textContent = header.textContent;
      button.title = words + " " + header.textContent;
      header.textContent = "";
      header.appendChild(button);
      button.addEventListener("click", function () { sortBy(table, column, header); });
    });
  }

  function addFinding(lists, words) {
    var label = document.createElement("label");
    var field = document.createElement("input");
    var count = document.createElement("output");
    label.className = "find";
    label.textContent = words + " ";
    field.type = "search";
    field.autocomplete = "off";
    label.appendChild(field);
    label.appendChild(count);
    lists.insertBefore(label, lists.firstChild);
    field.addEventListener("input", function () {
      var wanted = field.value.trim().toLocaleLowerCase().split(/\s+/);
      var found = 0;
      each(lists.querySelectorAll("tbody tr"), function (row) {
        var text = row.textContent.toLocaleLowerCase();
        row.hidden = !wanted.every(function (word) { return text.indexOf(word) >= 0; });
        found += row.hidden ? 0 : 1;
      });
      count.textContent = field.value.trim() ? String(found) : "";
    });
  }

  // A row that folds on a telephone is no longer one to every screen reader. HTML forbids these roles where they stand
  // in the file, so that they are put there for whoever has a script.
  function addRoles(table) {
    table.setAttribute("role", "table");
    each(table.querySelectorAll("thead, tbody"), function (rows) { rows.setAttribute("role", "rowgroup"); });
    each(table.rows, function (row) {
      row.setAttribute("role", "row");
      each(row.cells, function (cell) {
        cell.setAttribute("role", { col: "columnheader", row: "rowheader" }[cell.getAttribute("scope")] || "cell");
      });
    });
  }

  each(document.querySelectorAll(".folds"), addRoles);
  each(document.querySelectorAll("[data-sorts]"), function (lists) {
    each(lists.querySelectorAll("table"), function (table) { addSorting(table, lists.dataset.sorts); });
    addFinding(lists, lists.dataset.finds);
  });
})();
