(function () {
  "use strict";
  document.querySelectorAll("[data-copies]").forEach(function (button) {
    var area = document.getElementById(button.getAttribute("data-copies"));
    var said = document.getElementById(button.getAttribute("data-says"));
    button.hidden = false;
    button.addEventListener("click", function () {
      function tell(done) {
        said.textContent = done ? "Copied." : "Select the text and copy it yourself.";
      }
      function byHand() {
        area.focus();
        area.select();
        tell(document.execCommand("copy"));
      }
      if (navigator.clipboard && window.isSecureContext) {
        navigator.clipboard.writeText(area.value).then(function () { tell(true); }, byHand);
      } else {
        byHand();
      }
    });
  });
  var told = document.getElementById("told");
  if (told) {
    told.focus();
  }
})();
