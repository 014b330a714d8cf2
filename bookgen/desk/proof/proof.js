// In a proof only: asks once a second whether the book has been bound again, and shows what keeps it from being bound.
(function () {
  "use strict";

  var known = null;

  function line(text, href) {
    var note = document.getElementById("proof-note") || document.createElement("p");
    var link = document.createElement("a");
    note.id = "proof-note";
    note.setAttribute("role", "status");
    link.href = href;
    link.textContent = text;
    note.replaceChildren(link);
    document.body.appendChild(note);
  }

  window.proofStamp = function (stamp, problems) {
    if (known !== null && stamp !== known) { window.location.reload(); }
    known = stamp;
    if (problems) { line(problems, "/_proof/problems"); } else { line("Match points on two photos", "/_proof/points"); }
  };

  function ask() {
    var script = document.createElement("script");
    script.src = "/_proof/stamp.js?" + Date.now();
    script.onload = script.onerror = function () { script.remove(); window.setTimeout(ask, 1000); };
    document.head.appendChild(script);
  }

  ask();
}());
