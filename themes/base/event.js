(function () {
  var boxes = document.querySelectorAll("input[data-tick]");
  var store = "foldwright-event-" + document.title + "-";
  function kept(name) {
    try { return localStorage.getItem(store + name) === "1"; } catch (refused) { return false; }
  }
  function keep(name, ticked) {
    try {
      if (ticked) { localStorage.setItem(store + name, "1"); } else { localStorage.removeItem(store + name); }
    } catch (refused) { return; }
  }
  for (var i = 0; i < boxes.length; i += 1) {
    boxes[i].checked = kept(boxes[i].getAttribute("data-tick"));
    boxes[i].addEventListener("change", function (event) {
      keep(event.target.getAttribute("data-tick"), event.target.checked);
    });
  }
  var untick = document.getElementById("untick");
  untick.hidden = false;
  untick.addEventListener("click", function () {
    for (var i = 0; i < boxes.length; i += 1) {
      boxes[i].checked = false;
      keep(boxes[i].getAttribute("data-tick"), false);
    }
  });
}());
