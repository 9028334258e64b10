/** Style sheet of the report: no fonts, scripts or pictures from elsewhere; readable on paper and in the dark. */
export const STYLE = `
:root { color-scheme: light dark; --ink: #1c1c1c; --paper: #ffffff; --soft: #f3f1ec; --rule: #c9c4b8; --accent: #0072b2; }
@media (prefers-color-scheme: dark) {
  :root { --ink: #ececec; --paper: #17181a; --soft: #222427; --rule: #46494e; --accent: #63b3e4; }
}
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 72rem; padding: 1.5rem 1rem 4rem; color: var(--ink); background: var(--paper);
  font: 16px/1.5 system-ui, sans-serif; }
h1 { font-size: 1.6rem; margin: 0 0 .25rem; }
h2 { font-size: 1.25rem; margin: 2.5rem 0 .5rem; border-top: 2px solid var(--rule); padding-top: 1rem; }
h3 { font-size: 1.05rem; margin: 1.5rem 0 .25rem; }
p { margin: .4rem 0; max-width: 48rem; }
a { color: var(--accent); }
.scroll { overflow-x: auto; }
table { border-collapse: collapse; margin: .75rem 0; font-size: .95rem; font-variant-numeric: tabular-nums; }
caption { text-align: left; font-weight: 600; padding: .25rem 0; }
th, td { text-align: left; vertical-align: top; padding: .35rem .6rem; border-bottom: 1px solid var(--rule); white-space: nowrap; }
td.words { white-space: normal; min-width: 16rem; }
.verdict { display: inline-block; padding: .05rem .5rem; border: 1.5px solid currentColor; border-radius: .2rem; font-weight: 600; white-space: nowrap; }
.verdict.fit { border-style: solid; }
.verdict.do-not-connect { background: var(--ink); color: var(--paper); }
.caution { background: var(--soft); border-left: .3rem solid var(--ink); padding: .6rem 1rem; margin: 1rem 0; }
.caution ul { margin: .25rem 0; padding-left: 1.2rem; }
figure { margin: 1rem 0; }
figure svg { max-width: 100%; height: auto; }
code { font-size: .9em; overflow-wrap: anywhere; white-space: normal; }
@media print { h2 { break-before: page; } body { padding: 0; max-width: none; font-size: 11pt; } }
`;
