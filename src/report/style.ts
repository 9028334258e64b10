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
td.words { white-space: normal; min-width: 16rem; }
.verdict { display: inline-block; padding: .05rem .5rem; border: 1.5px solid currentColor; border-radius: .2rem; font-weight: 600; white-space: nowrap; }
.verdict.do-not-connect, .verdict.held { background: var(--ink); color: var(--paper); }
.caution { background: var(--soft); border-left: .3rem solid var(--ink); padding: .6rem 1rem; margin: 1rem 0; }
.held-by { border: .2rem solid var(--ink); padding: .4rem 1rem; font-weight: 600; }
ul.caution { padding-left: 2rem; }
figure { margin: 1rem 0; }
figure svg { display: block; max-width: 100%; min-width: 34rem; height: auto; }
code { font-size: .9em; overflow-wrap: anywhere; white-space: normal; }
.on-paper { display: none; }
@page { size: A4; margin: 11mm 12mm; }
@media print {
  body { padding: 0; max-width: none; font-size: 9.2pt; line-height: 1.3; }
  h1 { font-size: 15pt; }
  h2 { font-size: 13pt; margin: 0 0 2mm; border: 0; padding: 0; break-after: avoid; }
  h4 { font-size: 9.2pt; margin: 1.5mm 0 .4mm; break-after: avoid; }
  h3 { font-size: 10.5pt; margin: 2mm 0 .6mm; break-after: avoid; }
  p, li { max-width: none; margin: .8mm 0; }
  a { color: inherit; text-decoration: none; }
  .on-screen { display: none; }
  .on-paper { display: revert; }
  .sheet, .new-page { break-before: page; }
  .sheet { break-inside: avoid; }
  .scroll { overflow: visible; }
  table { font-size: 8.5pt; margin: 1.5mm 0; }
  th, td { padding: .45mm 1.4mm; }
  #verdicts { font-size: 7.6pt; }
  #verdicts th, #verdicts td { padding: .45mm .8mm; }
  #verdicts td:last-child { white-space: normal; }
  .verdict.do-not-connect, .verdict.held { background: none; color: var(--ink); border-width: .9mm; }
  tr, figure, article { break-inside: avoid; }
  figure { margin: 2mm 0; }
  figure svg { min-width: 0; max-height: 50mm; }
  article figure svg { max-height: 80mm; }
  article { break-inside: auto; }
  article h3 + figure { break-before: avoid; }
  .caution { background: none; border: .3mm solid var(--ink); border-left-width: 1.5mm; padding: 1mm 3mm; margin: 2mm 0; }
  ul.caution { padding-left: 6mm; }
  .small { font-size: 7.2pt; line-height: 1.25; columns: 2; column-gap: 6mm; }
  .small li { break-inside: avoid; }
  /* Who holds the circuit, and why, takes the room of the curve on the page of A4. */
  .sheet:has(.held-by) figure { display: none; }
  .by-hand { width: 100%; }
  .by-hand td { border: .3mm solid var(--ink); width: 33.3%; height: 8mm; font-size: 7.5pt; }
}
`;
