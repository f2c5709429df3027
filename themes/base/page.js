(function () {
  var key = "foldwright-units";
  var choices = document.getElementsByName("units");
  function remember(event) {
    try { localStorage.setItem(key, event.target.value); } catch (refused) { return; }
  }
  var kept = null;
  try { kept = localStorage.getItem(key); } catch (refused) { kept = null; }
  for (var i = 0; i < choices.length; i += 1) {
    if (choices[i].value === kept) { choices[i].checked = true; }
    choices[i].addEventListener("change", remember);
  }
}());
(function () {
  function foldable(box) {
    var stages = box.querySelectorAll("g");
    var words = box.getAttribute("data-words").split("|");
    var slider = document.createElement("input");
    slider.type = "range";
    slider.min = "0";
    slider.max = String(stages.length - 1);
    slider.value = slider.max;
    slider.setAttribute("aria-label", box.getAttribute("data-label"));
    function show() {
      var now = Number(slider.value);
      for (var i = 0; i < stages.length; i += 1) { stages[i].setAttribute("class", i === now ? "now" : ""); }
      slider.setAttribute("aria-valuetext", now === 0 ? words[0] : now < stages.length - 1 ? words[1] : words[2]);
    }
    slider.addEventListener("input", show);
    box.appendChild(slider);
    box.parentNode.className += " moves";
    show();
  }
  // Older browsers cannot be told by a style sheet to show what is folded away.
  if (!CSS.supports("selector(::details-content)")) {
    var folded = document.querySelectorAll(".pieces details");
    var show = function (count) { for (var i = 0; i < count; i += 1) { folded[i].open = true; } };
    if (window.matchMedia("(min-width:48rem)").matches) { show(Math.min(1, folded.length)); }
    window.addEventListener("beforeprint", function () { show(folded.length); });
  }
  var boxes = document.querySelectorAll(".folding");
  for (var i = 0; i < boxes.length; i += 1) { foldable(boxes[i]); }
}());
