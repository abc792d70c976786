/** Width of the text on a page, mm: what Letter and A4 both leave between their margins. */
export const PAGE_WIDTH = 186;

/** How every sheet is laid out: black on white, A4 and Letter, headings again over each page's tables. */
export const STYLE = `
@page { margin: 14mm 12mm 15mm; @bottom-left { content: "Eye protection on. Stop the spindle before measuring or reaching in."; font: 9pt sans-serif; } @bottom-right { content: counter(page) " / " counter(pages); font: 9pt sans-serif; } }
* { box-sizing: border-box; }
html { font: 11pt/1.4 "Helvetica Neue", Arial, "Liberation Sans", sans-serif; color: #000; background: #fff; }
body { margin: 0 auto; max-width: ${PAGE_WIDTH}mm; }
@media screen { body { padding: 8mm 4mm; } }
h1 { font-size: 16pt; margin: 0 0 2mm; overflow-wrap: anywhere; }
h2 { font-size: 12pt; margin: 5mm 0 1.5mm; break-after: avoid; }
p { margin: 0 0 2mm; }
ul, ol { margin: 0 0 2mm; padding-left: 6mm; }
.setup { break-before: page; }
h1 { break-after: avoid; }
.follows { margin-top: 10mm; }
.boxed { border: 0.3mm solid #000; padding: 1.5mm 2.5mm; }
figure { margin: 3mm 0; break-inside: avoid; }
figcaption { font-size: 9pt; margin-top: 1mm; }
.pair { display: flex; gap: 5mm; align-items: flex-start; break-inside: avoid; }
.pair > * { flex: 1 1 50%; min-width: 0; }
.pair figure { margin: 0; }
@media (max-width: 600px) { .pair { display: block; } }
.cautions { border: 0.5mm solid #000; padding: 1.5mm 2.5mm; margin: 3mm 0; break-inside: avoid; }
.cautions h2 { margin: 0 0 1mm; }
.cautions p, .cautions ul { margin-bottom: 0; }
table { border-collapse: collapse; width: 100%; margin: 2mm 0 4mm; font-variant-numeric: tabular-nums; }
th, td { border-bottom: 0.18mm solid #000; padding: 0.7mm 2mm; text-align: left; vertical-align: top; overflow-wrap: anywhere; }
thead th { border-bottom-width: 0.5mm; font-size: 9.5pt; vertical-align: bottom; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
th.n, td.n { text-align: right; white-space: nowrap; }
th.title { font-size: 11pt; border-bottom: 0; padding: 2mm 0 1mm; }
tr.group td { font-weight: bold; break-after: avoid; }
.places { table-layout: fixed; font-size: 10pt; line-height: 1.2; }
.places col.at { width: 19mm; }
.places col.stop { width: 11mm; }
.places col.dial { width: 21mm; }
.places.dials { font-size: 9.5pt; }
.places.dials col.at { width: 17.5mm; }
.places.dials th, .places.dials td, .stops td, .stops th { padding: 0.5mm 1.2mm; }
.places small { font-size: 8pt; }
.level { white-space: nowrap; }
td.tick, .stops td.tick { border: 0.18mm solid #000; min-width: 5mm; }
.setting { break-inside: avoid; }
.stops { font-size: 9.5pt; line-height: 1.15; }
.prefer { font-style: italic; }
.hand, .guide { margin-bottom: 5mm; }
.guide { break-inside: avoid; }
.guide li { margin-bottom: 1.5mm; }
.blank { display: inline-block; width: 26mm; border-bottom: 0.25mm solid #000; }
.doubtful { border: 0.8mm solid #000; padding: 1.5mm 2.5mm; font-weight: bold; }
.pair.nibble > div { flex: 1 1 65%; }
.pair.nibble > figure { flex: 0 0 52mm; }
.pair.nibble { break-inside: auto; }
svg .cutter { stroke-width: 0.18mm; }
.places col.tick { width: 8mm; }
`;
