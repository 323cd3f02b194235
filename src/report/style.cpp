#include "report/style.h"

namespace jigtime::report {

const std::string_view style_sheet = R"css(
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0; background: #fff; color: #1a1a1a; font: 100%/1.45 "Helvetica Neue", Arial, "Liberation Sans", "DejaVu Sans", sans-serif; }
main { max-width: 66rem; margin: 0 auto; padding: 1.5rem 1.25rem 3rem; }
h1, h2 { line-height: 1.2; overflow-wrap: anywhere; }
h1 { font-size: 1.9rem; margin: 0 0 .2rem; }
h2 { font-size: 1.25rem; margin: 2.4rem 0 .6rem; padding-top: .5rem; border-top: 2px solid #1a1a1a; }
h3 { font-size: 1rem; margin: 1.6rem 0 .4rem; }
p { margin: .4rem 0; max-width: 46rem; overflow-wrap: anywhere; }
.over-title { font-size: .95rem; margin: 0 0 .1rem; }
.subtitle { font-size: 1.1rem; }
dl { margin: 1rem 0; overflow-wrap: anywhere; }
dl.facts { display: grid; grid-template-columns: 8.5rem 1fr; gap: .3rem 1rem; }
dl.times { display: grid; grid-template-columns: repeat(4, 1fr); gap: 0 1rem; }
dl.times div { border-left: 3px solid #1a1a1a; padding-left: .6rem; }
dt { font-weight: 600; }
dd { margin: 0; white-space: pre-line; }
dl.times dd { font-size: .85rem; }
dl.times dd::first-line { font-size: 1.5rem; font-weight: 600; font-variant-numeric: tabular-nums; }
.attention { border: 1px solid #1a1a1a; border-left-width: 6px; padding: .5rem 1rem; margin: 1rem 0; max-width: 46rem; }
.attention h3 { margin: 0 0 .3rem; }
.attention ul { margin: 0; padding-left: 1.1rem; overflow-wrap: anywhere; }
.key { list-style: none; margin: .6rem 0 1rem; padding: 0; display: grid; grid-template-columns: 1fr 1fr; gap: .25rem 1.5rem; font-size: .85rem; }
.key li { display: flex; gap: .5rem; align-items: flex-start; }
.key svg { flex: none; margin-top: .05rem; }
.strip { display: block; width: 100%; height: auto; margin: 0 0 1.4rem; font-family: inherit; }
.left-out { font-size: .85rem; font-style: italic; margin: 0 0 1.2rem; }
.grid { stroke: #c8c8c8; stroke-width: .6; }
.axis { stroke: #1a1a1a; stroke-width: 1; }
.rule { stroke: #dcdcdc; stroke-width: .5; }
.pole { stroke: #0072b2; stroke-width: .9; stroke-dasharray: 3 2; }
.whisker { stroke: #000; stroke-width: 1.2; }
.leader { stroke: #444; stroke-width: .6; }
.strip text { fill: #000; white-space: pre; }
.tick { font-size: 10px; }
.row { font-size: 11.5px; font-weight: 600; }
.bar { font-size: 11.5px; }
.on-pattern { paint-order: stroke; stroke: #fff; stroke-width: 3px; stroke-linejoin: round; }
.label { font-size: 10px; text-anchor: middle; }
.strip .flag { font-size: 10px; font-weight: 600; fill: #fff; }
.strip .small { font-size: 10px; font-weight: 400; }
.wide { overflow-x: auto; }
table { border-collapse: collapse; width: 100%; font-size: .875rem; margin: .4rem 0 1rem; }
caption { text-align: left; font-weight: 600; padding: .3rem 0; }
th, td { text-align: left; vertical-align: top; padding: .3rem .6rem .3rem 0; border-bottom: 1px solid #c8c8c8; white-space: pre-line; overflow-wrap: anywhere; font-weight: 400; }
thead th { font-weight: 600; border-bottom: 1.5px solid #1a1a1a; vertical-align: bottom; overflow-wrap: normal; }
tfoot th, tfoot td { font-weight: 600; border-bottom: none; border-top: 1px solid #1a1a1a; }
th.number, td.number { text-align: right; padding-right: 1.4rem; font-variant-numeric: tabular-nums; }
.words { min-width: 4.6rem; }
.wide-words { min-width: 8.6rem; }
.digest { font-family: "DejaVu Sans Mono", monospace; font-size: .8em; }
.time { white-space: pre; overflow-wrap: normal; padding-right: 1rem; }
th:last-child, td:last-child { padding-right: 0; }
td.wide-words, dd.own, figcaption { unicode-bidi: plaintext; }
.empty { font-style: italic; }
.marks { display: grid; grid-template-columns: repeat(auto-fill, minmax(15rem, 1fr)); gap: 1.2rem; list-style: none; margin: 0; padding: 0; }
.marks figure { margin: 0; overflow-wrap: anywhere; }
.marks img { display: block; width: 100%; height: auto; border: 1px solid #1a1a1a; }
.marks .no-still { border: 1px dashed #1a1a1a; padding: 1.6rem .6rem; margin: 0; text-align: center; font-style: italic; }
.marks figcaption { margin-top: .3rem; }
.marks figcaption p { margin: .2rem 0 0; white-space: pre-line; }
.number-tag { display: inline-block; background: #0072b2; color: #fff; font-weight: 600; padding: 0 .4rem; margin-right: .4rem; }
footer { font-size: .875rem; }
.tools { position: sticky; top: 0; background: #fff; border-bottom: 1px solid #1a1a1a; padding: .5rem 0; z-index: 1; }
.tools input, .tools button { font: inherit; }
.tools button { margin-left: .3rem; }
.drawing { overscroll-behavior-x: contain; }
[hidden] { display: none; }
@media (max-width: 40rem) {
  dl.times, .key { grid-template-columns: 1fr; gap: .6rem; }
  dl.facts { grid-template-columns: 1fr; gap: 0; }
  dl.facts dd { margin-bottom: .5rem; }
  .drawing { overflow-x: auto; }
  .strip { min-width: 44rem; }
}
@media print {
  @page { margin: 14mm 13mm; }
  body { font-size: 10pt; }
  main { max-width: none; padding: 0; }
  * { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
  h2, h3, caption { break-after: avoid; }
  .strip, .marks li, tr, .attention, dl.times { break-inside: avoid; }
  thead { display: table-header-group; break-after: avoid; }
  tbody tr:first-child { break-before: avoid; }
  tfoot { display: table-row-group; }
  .marks { grid-template-columns: 1fr 1fr; }
  .wide, .drawing { overflow: visible; }
  .drawing .strip { width: 100% !important; }
  .tools { display: none; }
  footer { break-inside: avoid; }
}
)css";

const std::string_view book_style_sheet = R"css(
figcaption { white-space: pre-line; }
h3 { border-top: 1px solid #1a1a1a; padding-top: .5rem; margin-top: 2rem; }
h4 { font-size: .95rem; margin: 1.2rem 0 .3rem; }
.contents { list-style: none; padding: 0; columns: 2; column-gap: 2rem; }
.contents .first { font-weight: 600; margin-top: .5rem; }
.contents .second { padding-left: 1rem; }
.contents a { color: inherit; text-decoration: none; }
.small-print { font-size: .875rem; }
.strong { font-weight: 600; }
.caution { font-style: italic; border-left: 3px solid #1a1a1a; padding-left: .6rem; }
.mono { font-family: "DejaVu Sans Mono", "Liberation Mono", monospace; font-size: .8rem; overflow-wrap: anywhere; }
.attention p { margin: .3rem 0; }
@media print { h2 { break-before: page; } h3, h4 { break-after: avoid; } }
)css";

}  // namespace jigtime::report
