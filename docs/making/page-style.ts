/** Style sheet of the built documentation: nothing from elsewhere, light and dark, and on paper. */
export const STYLE = `
:root { color-scheme: light dark; --ink: #1c1c1c; --paper: #ffffff; --soft: #f3f1ec; --rule: #c9c4b8; --accent: #0067a3; }
@media screen and (prefers-color-scheme: dark) {
  :root { --ink: #ececec; --paper: #17181a; --soft: #222427; --rule: #46494e; --accent: #63b3e4; }
}
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 60rem; padding: 1rem 1rem 4rem; color: var(--ink); background: var(--paper);
  font: 16px/1.55 system-ui, sans-serif; }
nav { display: flex; flex-wrap: wrap; gap: .25rem 1.25rem; border-bottom: 1px solid var(--rule); padding-bottom: .5rem; }
nav a { padding: .25rem 0; }
a { color: var(--accent); }
h1 { line-height: 1.25; }
a, pre, .wide { scroll-margin-top: 1rem; }
:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
img, svg { max-width: 100%; height: auto; }
picture { display: block; overflow-x: auto; }
picture img, .wide svg { display: block; min-width: 34rem; }
.wide { overflow-x: auto; margin: .75rem 0; }
pre { background: var(--soft); padding: .6rem .9rem; overflow-x: auto; font-size: .85rem; line-height: 1.45; }
code { font-family: ui-monospace, monospace; font-size: .92em; }
table { border-collapse: collapse; font-size: .93rem; }
caption { text-align: left; }
th, td { text-align: left; vertical-align: top; padding: .3rem .6rem; border-bottom: 1px solid var(--rule); }
.shown { border-left: .2rem solid var(--accent); padding-left: .9rem; margin: .5rem 0 1.5rem; overflow-x: auto; }
.shown pre { background: none; padding: 0; }
@media print { nav { display: none; } body { max-width: none; font-size: 10pt; } pre { white-space: pre-wrap; } picture img, .wide svg { min-width: 0; } }
`;
