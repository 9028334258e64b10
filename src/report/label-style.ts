/** Style sheet of the labels: black on white, also where the reader prefers dark, because they are made to be printed. */
export const LABEL_STYLE = `
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 60rem; padding: 1rem; color: #000; background: #fff; font: 16px/1.3 system-ui, sans-serif; }
h1 { font-size: 1.3rem; }
main { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(92mm, 100%), 1fr)); gap: 2mm; }
section { display: flex; justify-content: space-between; gap: 2mm; min-height: 53mm; padding: 2.5mm; border: .2mm dashed #000; break-inside: avoid; }
p { margin: 0; overflow-wrap: anywhere; font-size: 10pt; }
.words { flex: 1; min-width: 0; display: flex; flex-direction: column; gap: .6mm; }
.whose { font-size: 13pt; font-weight: 700; }
.number { font-size: 13pt; font-weight: 700; }
.to-write { border-bottom: .3mm solid #000; min-height: 10mm; padding-top: 1mm; font-size: 8pt; font-weight: 400; }
svg { flex: none; width: 36mm; height: 36mm; }
@page { size: A4; margin: 8mm; }
@media print {
  body { padding: 0; max-width: none; }
  h1 { display: none; }
  main { grid-template-columns: 1fr 1fr; }
}
`;
