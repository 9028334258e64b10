/** Style sheet of the report: no fonts, scripts or pictures from elsewhere; readable on paper and in the dark. */
export const STYLE = `
:root { color-scheme: light dark; --ink: #1c1c1c; --paper: #ffffff; --soft: #f3f1ec; --rule: #c9c4b8; --accent: #0067a3; }
@media screen and (prefers-color-scheme: dark) {
  :root { --ink: #ececec; --paper: #17181a; --soft: #222427; --rule: #46494e; --accent: #63b3e4; }
}
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 72rem; padding: 1.5rem 1rem 4rem; color: var(--ink); background: var(--paper);
  font: 16px/1.5 system-ui, sans-serif; }
h1 { font-size: 1.6rem; margin: 0 0 .25rem; line-height: 1.25; }
h2 { font-size: 1.25rem; margin: 2.5rem 0 .5rem; border-top: 2px solid var(--rule); padding-top: 1rem; }
h3 { font-size: 1.05rem; margin: 1.5rem 0 .25rem; }
h4 { font-size: 1rem; margin: 1rem 0 .2rem; }
p, li { margin: .4rem 0; overflow-wrap: anywhere; max-width: 48rem; }
ul, ol { margin: .4rem 0; padding-left: 1.4rem; }
a { color: var(--accent); }
a, .scroll { scroll-margin-top: 1rem; }
:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
nav { display: flex; flex-wrap: wrap; gap: .25rem 1.25rem; margin: .6rem 0; }
nav a { padding: .25rem 0; }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; margin: .75rem 0; font-size: .95rem; font-variant-numeric: tabular-nums; }
caption { text-align: left; font-weight: 600; padding: .25rem 0; }
th, td { text-align: left; vertical-align: top; padding: .35rem .6rem; border-bottom: 1px solid var(--rule); white-space: nowrap; }
th a { display: inline-block; padding: .1rem 0; }
thead th { white-space: normal; vertical-align: bottom; }
#verdicts td:nth-child(4) { white-space: normal; }
#verdicts th[scope="row"], #verdicts td:nth-child(2) { white-space: normal; overflow-wrap: anywhere; min-width: 4.5rem; }
#verdicts.long-names :is(th[scope="row"], td:nth-child(2)) { min-width: 12rem; }
td.words { white-space: normal; min-width: 16rem; }
.verdict { display: inline-flex; align-items: center; gap: .35em; padding: .05rem .5rem .05rem .3rem;
  border: 1.5px solid currentColor; border-radius: .2rem; font-weight: 600; white-space: nowrap; }
.verdict.do-not-connect, .verdict.held { background: var(--ink); color: var(--paper); }
.shape { flex: none; width: 1.15em; height: 1.15em; vertical-align: -.2em; fill: none; stroke: currentColor; }
.shape.filled { fill: currentColor; }
.shape.filled .inside { stroke: var(--paper); }
.verdict .shape.filled .inside { stroke: var(--ink); }
.decided-mark { display: block; font-size: .85em; font-weight: 600; }
.sheet h2 { display: flex; flex-direction: column; align-items: flex-start; gap: .4rem; overflow-wrap: anywhere; }
.sheet h2 .verdict { font-size: clamp(1.5rem, 6vw, 2.6rem); line-height: 1.25; border-width: .18rem; padding: .1rem .6rem .1rem .4rem; }
.action { font-size: 1.15rem; font-weight: 600; margin: .3rem 0; }
.valid-until { font-size: 1.5rem; font-weight: 600; margin: .3rem 0; }
.decided { border: .15rem dashed var(--ink); padding: .3rem 1rem; }
.carts { display: grid; grid-template-columns: repeat(auto-fill, minmax(15rem, 1fr)); gap: .1rem 1.25rem; }
.carts span { display: flex; flex-wrap: wrap; align-items: center; gap: 0 .9rem; overflow-wrap: anywhere; }
.carts a { display: inline-flex; align-items: center; gap: .3em; padding: .35rem 0; min-height: 2rem; }
.caution { background: var(--soft); border-left: .3rem solid var(--ink); padding: .6rem 1rem; margin: 1rem 0; }
.held-by { border: .2rem solid var(--ink); padding: .4rem 1rem; font-weight: 600; }
ul.caution { padding-left: 2rem; }
figure { margin: 1rem 0; }
figure svg { display: block; max-width: 100%; height: auto; }
.for-phone { display: none; }
code { font-size: .9em; overflow-wrap: anywhere; white-space: normal; }
.on-paper { display: none; }
@media screen and (max-width: 44rem) {
  .for-page { display: none; }
  .for-phone { display: block; }
  .carts { grid-template-columns: 1fr; }
  #verdicts, #verdicts caption, #verdicts tbody { display: block; }
  #verdicts thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
  #verdicts tr { display: flex; flex-wrap: wrap; align-items: center; gap: .1rem .6rem; padding: .5rem 0; border-bottom: 1px solid var(--rule); }
  #verdicts th, #verdicts td { border: 0; padding: 0; min-width: 0; }
  #verdicts th[scope="row"], #verdicts td:nth-child(2) { min-width: 3rem; max-width: 28vw; }
  #verdicts td:nth-child(3) { margin-left: auto; }
  #verdicts td:nth-child(n + 4) { display: none; }
  #verdicts tr::after { content: ""; order: 1; flex-basis: 100%; }
  #verdicts td:is(:nth-child(4), :nth-child(5), :last-child):not(.none) { display: block; order: 2; font-size: .8rem; }
  #verdicts td:is(:nth-child(4), :nth-child(5), :last-child)::before { content: attr(data-title) " "; }
  #verdicts td:nth-child(4):not(.none) ~ td:last-child:not(.none) { display: none; }
}
@page { size: A4; margin: 11mm 12mm; @bottom-right { content: "page " counter(page) " of " counter(pages); font: 8pt system-ui, sans-serif; } }
@media print {
  body { padding: 0; max-width: none; font-size: 9.2pt; line-height: 1.3; }
  h1 { font-size: 15pt; }
  h2 { font-size: 13pt; margin: 2mm 0 1mm; border: 0; padding: 0; break-after: avoid; }
  h4 { font-size: 9.2pt; margin: 1.5mm 0 .4mm; break-after: avoid; }
  h3 { font-size: 10.5pt; margin: 2mm 0 .6mm; break-after: avoid; }
  p, li { max-width: none; margin: .8mm 0; }
  a { color: inherit; text-decoration: none; }
  .on-screen { display: none; }
  .on-paper { display: revert; }
  .sheet, .new-page { break-before: page; }
  .sheet { break-inside: avoid; }
  .sheet h2 { margin: 0 0 2mm; gap: 1mm; }
  /* Letters 12 mm high can be read from three metres (common practice, no source). */
  .sheet h2 .verdict { font-size: 44pt; line-height: 1.1; }
  .sheet h2 .verdict.held { font-size: 36pt; }
  .valid-until { font-size: 24pt; line-height: 1.1; margin: 0 0 1mm; }
  .half { display: flow-root; position: relative; }
  .half h2 { flex-flow: row wrap; align-items: center; gap: 1mm 4mm; padding-right: 62mm; }
  :is(.half, .sheet:has(.counts)) .small li { display: inline; }
  :is(.half, .sheet:has(.counts)) .small li::after { content: " "; }
  :is(.half, .sheet:has(.counts)) .small li + li::before { content: "• "; }
  .half .by-hand td, .sheet:is(:has(.held-by), .long-names) .by-hand td { height: 11mm; }
  .half .valid-until { position: absolute; right: 0; top: 1mm; width: 60mm; text-align: right; }
  .why-and-what { display: grid; grid-template: auto 1fr / 1fr 1fr; gap: 0 5mm; }
  .why-and-what .what { grid-area: 1 / 2 / span 2; }
  .why-and-what h3 { margin-top: .5mm; }
  .why-and-what li { font-size: 8.7pt; line-height: 1.25; }
  .sheet.half + .sheet.half { break-before: auto; }
  .sheet.half { min-height: 136mm; }
  .sheet.half + .sheet.half::before { content: ""; position: absolute; top: -1mm; left: 0; right: 0; border-top: .2mm dashed var(--ink); }
  .action { font-size: 13pt; line-height: 1.15; margin: 0 0 1.5mm; }
  .side-by-side { display: flex; gap: 4mm; align-items: flex-start; }
  .side-by-side > * { flex: 1 1 42%; margin: 0; }
  .side-by-side > :first-child { flex-basis: 58%; }
  .sheet .for-page { display: none; }
  .sheet .for-phone { display: block; }
  .why-and-what .how-to-draw li { font-size: 8pt; line-height: 1.2; margin: .3mm 0; }
  .counts td, .counts tbody th { height: 7mm; vertical-align: middle; }
  .sheet:is(:has(.held-by), .long-names) :is(.counts td, .counts tbody th) { height: 6.5mm; }
  /* A class of ranges has five channels: lower boxes keep its sheet on one page. */
  .sheet:has(.counts tbody tr:nth-child(5)) :is(.counts td, .counts tbody th) { height: 5.8mm; padding-block: .2mm; }
  .sheet:has(.counts tbody tr:nth-child(5)) .by-hand td { height: 10.4mm; }
  .to-write { border: .3mm solid var(--ink); width: 32mm; }
  .scroll { overflow: visible; }
  table { font-size: 8.5pt; margin: 1.5mm 0; }
  th, td { padding: .45mm 1.4mm; }
  #verdicts { font-size: 7.6pt; }
  #verdicts th, #verdicts td { padding: .45mm .8mm; }
  #verdicts th[scope="row"], #verdicts td:nth-child(2) { min-width: 12mm; }
  /* Long names take a line of their own above the results. */
  /* Its titles are not repeated on a further page, so it goes there as a whole. */
  .scroll:has(> .long-names) { break-inside: avoid; }
  #verdicts.long-names { display: grid; grid-template-columns: repeat(10, auto); }
  #verdicts.long-names :is(thead, tbody) { display: contents; }
  #verdicts.long-names caption { display: block; grid-column: 1 / -1; }
  #verdicts.long-names tr { display: grid; grid-template-columns: subgrid; grid-column: 1 / -1; }
  #verdicts.long-names tr > :first-child { grid-column: 1 / span 6; border: 0; }
  #verdicts.long-names tr > :nth-child(2) { grid-column: 7 / -1; border: 0; }
  .long-names .whose { font-size: 10pt; line-height: 1.2; }
  .verdict.do-not-connect, .verdict.held { background: none; color: var(--ink); border-width: .9mm; }
  .verdict .shape.filled .inside { stroke: var(--paper); }
  tr, figure, article { break-inside: avoid; }
  figure { margin: 2mm 0; }
  figure svg { max-height: 62mm; }
  article figure svg { max-height: 80mm; }
  .class-history svg { max-height: none; width: 100%; }
  article { break-inside: auto; }
  article .scroll { break-inside: avoid; }
  article h3 + figure { break-before: avoid; }
  .caution { background: none; border: .3mm solid var(--ink); border-left-width: 1.5mm; padding: 1mm 3mm; margin: 2mm 0; }
  ul.caution { padding-left: 6mm; }
  .small { font-size: 7.2pt; line-height: 1.25; columns: 2; column-gap: 6mm; }
  .small li { break-inside: avoid; }
  /* Who holds the circuit, and why, or a long name takes the room of the curve on the page of A4. */
  .sheet:has(.held-by) .action, .sheet:is(:has(.held-by), .long-names) figure { display: none; }
  .by-hand, .by-hand tbody { display: block; width: 100%; }
  .by-hand, .sheet .caution { margin-right: .4mm; width: auto; }
  .by-hand caption { display: block; }
  .by-hand tbody { display: grid; grid-template-columns: repeat(3, 1fr); }
  .by-hand:has(tr:nth-child(4)) tbody { grid-template-columns: repeat(4, 1fr); }
  .by-hand tr { display: contents; }
  .by-hand td { border: .3mm solid var(--ink); height: 12mm; font-size: 8pt; }
}
`;
