#include "report/page_script.h"

namespace jigtime::report {

const std::string_view page_script = R"js(
"use strict";
(function () {
  const make = function (tag, text, to) {
    const made = document.createElement(tag);
    made.textContent = text;
    to.appendChild(made);
    return made;
  };
  const tools = document.createElement("div");
  tools.className = "tools";
  const label = make("label", "Find in this page ", tools);
  const field = make("input", "", label);
  field.type = "search";
  const found = make("span", "", tools);
  found.setAttribute("role", "status");
  make("span", " Drawing: ", tools);
  let width = 1;
  const drawing = document.querySelector(".drawing");
  const zoom = function (factor) {
    width = Math.min(8, Math.max(1, width * factor));
    drawing.querySelectorAll(".strip").forEach(function (strip) { strip.style.width = width * 100 + "%"; });
    drawing.style.overflowX = width > 1 ? "auto" : "";
  };
  [["narrower", 0.5], ["wider", 2]].forEach(function (choice) {
    const button = make("button", choice[0], tools);
    button.type = "button";
    button.addEventListener("click", function () { zoom(choice[1]); });
  });
  const things = document.querySelectorAll("tbody tr, .marks li");
  const bars = document.querySelectorAll(".strip g");
  const find = function () {
    const words = field.value.toLowerCase().split(/\s+/).filter(Boolean);
    const holds = function (thing) {
      const text = thing.textContent.toLowerCase();
      return words.every(function (word) { return text.includes(word); });
    };
    let count = 0;
    things.forEach(function (thing) {
      const fits = holds(thing);
      thing.hidden = !fits;
      if (fits) { count += 1; }
    });
    bars.forEach(function (bar) { bar.style.opacity = holds(bar) ? "" : "0.15"; });
    found.textContent = words.length > 0 ? " " + count + (count === 1 ? " line" : " lines") : "";
  };
  field.addEventListener("input", find);
  const header = document.querySelector("header");
  header.parentNode.insertBefore(tools, header.nextSibling);
})();
)js";

const std::string_view page_policy =
    "default-src 'none'; img-src data:; style-src 'unsafe-inline'; "
    "script-src 'sha256-rY7VyMmE8HLmngtk4uYMbTNmpRMv41I2TqW4DOecfL0='";

}  // namespace jigtime::report
