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
