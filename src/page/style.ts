/**
 * Style sheet of the hangar page: black on white in the sun, white on black in the dark, targets for gloves, no colour that
 * has a meaning.
 */
export const STYLE = `
:root { color-scheme: light dark; --ink: #000000; --paper: #ffffff; --soft: #eeeeea; --rule: #767676; --quiet: #454545; }
@media screen and (prefers-color-scheme: dark) {
  :root { --ink: #f5f5f5; --paper: #0c0c0d; --soft: #232426; --rule: #8c8c8c; --quiet: #c9c9c9; }
}
* { box-sizing: border-box; }
body { margin: 0; color: var(--ink); background: var(--paper); font: 18px/1.45 system-ui, sans-serif; }
#page { margin: 0 auto; max-width: 60rem; padding: .75rem 1rem 3rem; }
h1 { font-size: 1.4rem; line-height: 1.2; margin: .75rem 0; }
h1:focus { outline: none; }
h2 { font-size: 1.25rem; margin: 0 0 .5rem; }
h3 { font-size: 1.1rem; margin: 1.25rem 0 .25rem; }
p, li { margin: .4rem 0; overflow-wrap: anywhere; }
ul, ol { margin: .4rem 0; padding-left: 1.4rem; }
:focus-visible { outline: 4px solid var(--ink); outline-offset: 1px; }
button, input, select, summary { font: inherit; color: inherit; min-height: 3.25rem; border-radius: .4rem; }
button { padding: .5rem 1.1rem; border: 2px solid var(--ink); background: var(--paper); font-weight: 600; cursor: pointer; }
button.main { background: var(--ink); color: var(--paper); }
input, select { width: 100%; padding: .4rem .6rem; border: 2px solid var(--rule); background: var(--paper); }
summary { display: flex; align-items: center; font-weight: 600; cursor: pointer; }
summary::before { content: "+"; font-size: 1.5rem; width: 1.75rem; }
details[open] > summary::before { content: "\\2212"; }
.data-day { font-weight: 600; border-bottom: 2px solid var(--rule); padding-bottom: .5rem; }
.notice { border: 4px solid var(--ink); padding: .5rem 1rem; font-weight: 600; }
.whole { white-space: nowrap; }
.row { margin: .75rem 0; }
ul.notice { padding-left: 2.2rem; }
.quiet { color: var(--quiet); }
.cart { border-top: 2px solid var(--rule); margin-top: .75rem; padding-top: .75rem; }
.circuits { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 18rem), 1fr)); gap: .75rem; margin: 0; padding: 0; list-style: none; }
.circuits li { margin: 0; }
.pick { display: flex; align-items: center; gap: .9rem; width: 100%; min-height: 5rem; text-align: left; font-weight: 400; }
.pick strong { display: block; font-size: 1.15rem; line-height: 1.2; }
.mark { flex: none; width: 3.25rem; height: 3.25rem; }
.verdict { border: 4px solid var(--ink); border-radius: .4rem; padding: 1rem; margin: .75rem 0; }
.verdict .head { display: flex; align-items: center; gap: 1rem; }
.verdict .mark { width: 5.5rem; height: 5.5rem; }
.verdict .word { font-size: 2.4rem; line-height: 1.1; font-weight: 800; margin: 0; overflow-wrap: normal; }
.verdict .day { font-size: 1.8rem; line-height: 1.2; font-weight: 700; margin: .2rem 0 0; }
.verdict .next { font-size: 1.6rem; line-height: 1.2; font-weight: 700; margin: .6rem 0; }
.verdict .yet { font-size: 1.2rem; font-weight: 700; margin: .2rem 0 0; }
.verdict .action { font-size: 1.2rem; font-weight: 600; }
.verdict.typed { border-style: dashed; }
.tag { display: inline-block; background: var(--ink); color: var(--paper); font-weight: 700; padding: .2rem .7rem; margin: 0 0 .75rem; }
.part { border-top: 2px solid var(--rule); margin-top: 1.5rem; padding-top: 1rem; }
.fields { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 9.5rem), 1fr)); gap: .75rem; align-items: end; margin-bottom: .75rem; }
.field label { display: block; font-weight: 600; line-height: 1.25; margin-bottom: .35rem; }
.field .hint { display: block; font-weight: 400; color: var(--quiet); font-size: .95rem; }
fieldset { border: 0; margin: 0 0 .75rem; padding: 0; min-width: 0; }
legend { font-weight: 700; padding: 0; margin-bottom: .4rem; }
.classes { font-size: 1.25rem; font-weight: 700; }
.minutes { font-size: 2.25rem; font-weight: 800; line-height: 1.15; margin: .5rem 0; }
.clock { font-size: 3.5rem; font-weight: 800; line-height: 1; font-variant-numeric: tabular-nums; margin: .5rem 0; }
.timer { position: sticky; top: 0; background: var(--paper); border: 4px solid var(--ink); border-radius: .4rem; padding: .5rem 1rem; margin: .5rem 0; z-index: 1; }
.timer .clock { font-size: 2.5rem; }
.timer .row, .row { display: flex; flex-wrap: wrap; gap: .75rem; align-items: center; }
.caution { background: var(--soft); border-left: .4rem solid var(--ink); padding: .5rem 1rem; margin: 1.5rem 0 0; }
.on-paper { display: none; }
table { border-collapse: collapse; width: 100%; }
td { border: 1px solid var(--ink); height: 14mm; width: 33.3%; vertical-align: top; padding: 1mm 2mm; font-size: 9pt; }
@page { size: A4; margin: 12mm; }
@media print {
  body { font-size: 10.5pt; line-height: 1.35; }
  #page { max-width: none; padding: 0; }
  .on-screen, button, summary, .timer { display: none; }
  .on-paper { display: revert; }
  .tag { background: none; color: var(--ink); border: .5mm solid var(--ink); }
  .part, .caution { break-inside: avoid; margin-top: 4mm; padding-top: 2mm; }
  .caution { background: none; border: .3mm solid var(--ink); border-left-width: 1.5mm; padding: 1mm 3mm; }
  .verdict .word { font-size: 26pt; }
  .verdict .day { font-size: 20pt; }
  .verdict .next { font-size: 17pt; }
  .caution ul { columns: 2; column-gap: 6mm; font-size: 8pt; line-height: 1.25; }
  .caution li { break-inside: avoid; }
  .verdict, .part { margin-top: 2mm; padding-top: 2mm; }
  h1 { font-size: 15pt; margin: 1mm 0; }
  h2 { font-size: 12pt; }
  caption { text-align: left; font-weight: 600; }
  p, li { margin: .8mm 0; }
}
`;
