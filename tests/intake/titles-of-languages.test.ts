// Titles of laboratories that write German, French, Spanish, Italian, Dutch or Portuguese (common practice, no source).
import { describe, expect, test } from "vitest";
import { bytesInMemory, readLabFile, understand } from "../../src/intake/index.js";
import { recognise } from "../../src/intake/layout/columns.js";
import { holdsAsAWhole, mayName } from "../../src/intake/layout/dictionary.js";
import {
  BOTTLE_TITLES_ELSEWHERE,
  NAMING_ELSEWHERE,
} from "../../src/intake/layout/dictionary-of-languages.js";
import { joinTitles, namer } from "../../src/intake/layout/namer.js";
import { spellings } from "../../src/intake/layout/spellings.js";

const bytes = (...lines: readonly string[]) => new TextEncoder().encode(lines.join("\n"));
const ROW = "P-101;QB-02;fore;03.11.2026;AS1241 Type V;5200;1400;130;185;0,08;14,1";

describe("an ordinary file is read without a column map", () => {
  test.each([
    [
      "German",
      "Probennummer;Wagen;Kreis;Probenahmedatum;Flüssigkeit;Partikel > 4 µm(c) pro ml;Partikel > 6 µm(c) pro ml;Partikel > 14 µm(c) pro ml;Wassergehalt (ppm);Säurezahl (mg KOH/g);Viskosität bei 40 °C (mm²/s)",
    ],
    [
      "German, as a system without umlauts writes it",
      "PROBEN-NR.;WAGEN-NR.;HYDRAULIKKREIS;ENTNAHME AM;FLUESSIGKEIT;> 4 µm(c)/ml;> 6 µm(c)/ml;> 14 µm(c)/ml;WASSER NACH KARL FISCHER [mg/kg];SAEUREZAHL [mg KOH/g];KIN. VISKOSITAET 40 °C [mm²/s]",
    ],
    [
      "French",
      "N° d’échantillon;Chariot;Circuit;Date de prélèvement;Fluide;Particules > 4 µm(c) par ml;Particules > 6 µm(c) par ml;Particules > 14 µm(c) par ml;Teneur en eau (ppm);Indice d'acide (mg KOH/g);Viscosité cinématique à 40 °C (mm²/s)",
    ],
    [
      "French, as a system without accents writes it",
      "ECHANTILLON;CHARIOT N°;CIRCUIT HYDRAULIQUE;PRELEVE LE;FLUIDE HYDRAULIQUE;> 4 µm(c)/ml;> 6 µm(c)/ml;> 14 µm(c)/ml;EAU (KARL FISCHER) mg/kg;INDICE D ACIDE mg KOH/g;VISCOSITE A 40 °C mm²/s",
    ],
    [
      "Spanish",
      "N.º de muestra;Carro;Circuito;Fecha de muestreo;Fluido;> 4 µm(c) por ml;> 6 µm(c) por ml;> 14 µm(c) por ml;Contenido de agua (ppm);Número de acidez (mg KOH/g);Viscosidad a 40 °C (mm²/s)",
    ],
    [
      "Italian",
      "Campione;Carrello;Circuito;Data di prelievo;Fluido;> 4 µm(c) per ml;> 6 µm(c) per ml;> 14 µm(c) per ml;Contenuto d'acqua (ppm);Numero di acidità (mg KOH/g);Viscosità a 40 °C (mm²/s)",
    ],
    [
      "Dutch",
      "Monsternummer;Kar;Circuit;Monsternamedatum;Vloeistof;> 4 µm(c) per ml;> 6 µm(c) per ml;> 14 µm(c) per ml;Watergehalte (ppm);Zuurgetal (mg KOH/g);Viscositeit bij 40 °C (mm²/s)",
    ],
    [
      "Portuguese",
      "Amostra;Carrinho;Circuito;Data da coleta;Fluido;> 4 µm(c) por ml;> 6 µm(c) por ml;> 14 µm(c) por ml;Teor de água (ppm);Índice de acidez (mg KOH/g);Viscosidade a 40 °C (mm²/s)",
    ],
  ])("%s", async (_, titles) => {
    const file = await readLabFile(
      "lab.csv",
      bytes(titles, ROW, ROW.replace("P-101", "P-102").replace("03.11", "14.11")),
    );
    expect(file.quarantine).toEqual([]);
    expect(file.samples[0]).toMatchObject({
      sample: "P-101",
      cart: "QB-02",
      circuit: "fore",
      drawnOn: "2026-11-03",
      fluid: "AS1241 Type V",
      counts: {
        counts: [
          { sizeUm: 4, count: 5200 },
          { sizeUm: 6, count: 1400 },
          { sizeUm: 14, count: 130 },
        ],
      },
      waterPpm: { value: 185 },
      acidMgKohPerG: { value: 0.08 },
      viscosity40Mm2PerS: { value: 14.1 },
    });
  });

  test("a row for each result", async () => {
    const file = await readLabFile(
      "lab.csv",
      bytes(
        "Probe-Nr.;Wagen;Kreis;Gezogen am;Prüfparameter;Messwert;Einheit",
        "P-1;QB-02;fore;14.11.2026;Wasser;185;mg/kg",
        "P-1;QB-02;fore;14.11.2026;Eisen (Fe);3,5;mg/kg",
      ),
    );
    expect(file.samples[0]).toMatchObject({ waterPpm: { value: 185 }, metalsPpm: { iron: { value: 3.5 } } });
  });

  test("a line above the table names the cart, and one among its rows the next", async () => {
    const titles = "Probennummer;Kreis;Probenahmedatum;Wassergehalt (ppm)";
    const file = await readLabFile(
      "lab.csv",
      bytes("Wagen: QB-01", titles, "P-1;fore;14.11.2026;185", "Wagen: QB-02", "P-2;fore;14.11.2026;190"),
    );
    expect(file.samples.map(({ sample, cart }) => [sample, cart])).toEqual([
      ["P-1", "QB-01"],
      ["P-2", "QB-02"],
    ]);
  });
});

test("no title stands for two things, however it is spelled", () => {
  const all = Object.entries({ ...NAMING_ELSEWHERE, ...BOTTLE_TITLES_ELSEWHERE }).flatMap(([holds, titles]) =>
    titles.flatMap(spellings).map((title) => ({ holds, title })),
  );
  expect(
    all.filter(({ holds, title }) => holdsAsAWhole(title) !== holds || mayName(title) !== undefined),
  ).toEqual([]);
  expect(all.length).toBeGreaterThan(400);
});

describe("a title that means something else is not taken", () => {
  const kindOf = (title: string) => recognise(title, "", {}).kind;

  test.each([
    // A sensor, the day of a test or of another sample, an inlet, an instrument, a person.
    ...[
      "Probe",
      "Datum",
      "Prüfdatum",
      "Date d'analyse",
      "Eingang",
      "Gerät",
      "Anlage",
      "Appareil",
      "Kalibriert am",
    ],
    ...[
      "Datum der letzten Probenahme",
      "Date du dernier prélèvement",
      "Nächste Probenahme",
      "Prochain prélèvement",
    ],
    ...[
      "Probenahme durch",
      "Prélevé par",
      "Wagenführer",
      "Wagentyp",
      "Kreisdruck (bar)",
      "Probennummer Vorprobe",
    ],
    ...["Fecha", "Data", "Wagen/Kreis", "Probenvolumen", "Étiquette", "Flüssigkeitsstand"],
    // No content of water, no acid number of this sample.
    ...["Wasserstoff (ppm)", "Wassersättigung (%)", "Wasser Grenzwert (ppm)", "Wasser Vorwert (ppm)"],
    ...[
      "Teneur en eau limite (ppm)",
      "Eau: seuil (ppm)",
      "Saturation en eau (%)",
      "Säurezahl Neuöl (mg KOH/g)",
    ],
    ...["Freies Wasser", "Eau libre", "Säurezahl Zunahme (mg KOH/g)", "Wasser Unsicherheit (ppm)"],
    // Of an earlier sample, of new fluid, allowed.
    ...[
      "Wasser Vorprobe (ppm)",
      "Wasser letzte Probe (ppm)",
      "Säurezahl Frischöl (mg KOH/g)",
      "Wasser Richtwert (ppm)",
    ],
    ...[
      "Eau dernier échantillon (ppm)",
      "Teneur en eau admissible (ppm)",
      "Eau référence (ppm)",
      "Eau témoin (ppm)",
    ],
    ...[
      "Agua última muestra (ppm)",
      "Contenido de agua máximo (ppm)",
      "Agua aceite nuevo (ppm)",
      "Agua permitida (ppm)",
    ],
    ...["Acqua massima (ppm)", "Numero di acidità olio nuovo (mg KOH/g)", "Acqua ultimo campione (ppm)"],
    ...[
      "Watergehalte grenswaarde (ppm)",
      "Watergehalte vorig monster (ppm)",
      "Zuurgetal nieuwe olie (mg KOH/g)",
    ],
    ...["Teor de água máximo permitido (ppm)", "Teor de água óleo novo (ppm)"],
    ...[
      "ISO 4406 Vorprobe",
      "Classe ISO 4406 admissible",
      "NAS 1638 última muestra",
      "Klasse NAS 1638 zulässig",
    ],
    // A metal without its unit may be a word.
    ...["Chrom", "Fer", "Argent", "Plata", "Rame", "Zinn", "Blei"],
  ])("%s", (title) => {
    expect(kindOf(title)).toBe("unknown");
  });

  test.each([
    ...["Viskosität (mm²/s)", "Viscosité (mm²/s)", "Wasser frisch (ppm)", "Wasser nach Filtration (ppm)"],
    ...["Eau après filtration (ppm)", "Wasser (relativ %)", "Agua disuelta (ppm)"],
  ])("%s is asked about", (title) => {
    expect(kindOf(title)).toBe("unsure");
  });

  test.each([
    ...["Vorprobe", "Letzte Probe", "Frischöl", "Zulaessig", "Höchstwerte", "Previous sample", "Limits"],
    ...["Dernier prélèvement", "Huile neuve", "Valeurs admissibles", "Última muestra", "Aceite nuevo"],
    ...["Valori massimi", "Campione precedente", "Vorig monster", "Grenswaarden", "Óleo novo", "Änderung"],
  ])("nor any result or class below the title %s", (group) => {
    const titles = [
      "Wasser (ppm)",
      "Säurezahl (mg KOH/g)",
      "> 4 µm(c)/ml",
      "Eisen (mg/kg)",
      "ISO 4406",
      "NAS 1638",
    ];
    for (const title of titles)
      expect([title, joinTitles(group, title, "", namer(undefined)).recognition.kind]).toEqual([
        title,
        "unknown",
      ]);
  });

  test.each([
    "Ergebnisse",
    "Messwerte",
    "Neutralisationszahl",
    "Résultats",
    "Resultados",
    "Risultati",
    "Uitslagen",
  ])("but all of those below %s are taken", (group) => {
    for (const title of ["Wasser (ppm)", "Säurezahl (mg KOH/g)", "Eisen (mg/kg)", "ISO 4406"])
      expect([title, joinTitles(group, title, "", namer(undefined)).recognition.kind]).toEqual([
        title,
        "known",
      ]);
  });

  test.each([
    ...[
      "Gew.-%",
      "Gew%",
      "Masse-%",
      "Ma.-%",
      "Gewichtsprozent",
      "% masse",
      "% massique",
      "% en masse",
      "% p/p",
    ],
    ...["% en peso", "% in peso", "massa-%", "% em massa"],
  ])("a share by mass is read: %s", (unit) => {
    const meaning = { holds: "water", unit: "% m/m" };
    expect(recognise(`Wassergehalt (${unit})`, "", {})).toEqual({ kind: "known", meaning });
    expect(recognise("Wassergehalt", unit, {})).toEqual({ kind: "known", meaning });
  });

  test.each(["Vol.-%", "% v/v", "% vol", "% volumique", "%o", "Mol-%"])("no other share is: %s", (unit) => {
    expect(kindOf(`Wassergehalt (${unit})`)).toBe("unsure");
  });

  test("viscosity at another temperature is not that at 40 °C", () => {
    for (const title of [
      "Viskosität bei 100 °C (mm²/s)",
      "Viscosité à 100 °C (mm²/s)",
      "Viscosidad a 20 °C (cSt)",
    ])
      expect(recognise(title, "", {})).not.toMatchObject({ kind: "known" });
  });
});

describe("where a needed name is missing, the title that may hold it is asked about", () => {
  const asked = async (titles: string) => {
    const [table] = await understand(
      bytesInMemory("lab.csv", bytes(titles, "P-1;QB-02;fore;14.11.2026;185")),
    );
    const unsure = table?.columns.filter(({ recognition }) => recognition.kind === "unsure") ?? [];
    return {
      unsure: unsure.map(({ title }) => title),
      open: table?.open.map(({ key }) => key),
      says: table?.obstacle,
    };
  };

  test.each([
    ["Probe;Wagen;Kreis;Probenahmedatum;Wassergehalt (ppm)", "Probe", "sample"],
    ["Probennummer;Gerät;Kreis;Probenahmedatum;Wassergehalt (ppm)", "Gerät", "cart"],
    ["Échantillon;Chariot;Système;Prélevé le;Teneur en eau (ppm)", "Système", "circuit"],
    ["Probennummer;Wagen;Kreis;Datum;Wassergehalt (ppm)", "Datum", "drawn"],
    ["Number;Cart;Circuit;Drawn on;Water (ppm)", "Number", "sample"],
  ])("%s", async (titles, title, kind) => {
    const { unsure, open, says } = await asked(titles);
    expect(unsure).toEqual([title]);
    expect(open).toEqual([]);
    expect(says).toContain(`a column map can say whether it is "${title}" (${kind})`);
  });

  test("and left alone where another title holds the name", async () => {
    const titles = "Probennummer;Wagen;Kreis;Probenahmedatum;Wassergehalt (ppm);Probe;Gerät;Datum;Système";
    const [table] = await understand(
      bytesInMemory("lab.csv", bytes(titles, "P-1;QB-02;fore;14.11.2026;185;a;b;c;d")),
    );
    expect(table?.columns.filter(({ recognition }) => recognition.kind === "unsure")).toEqual([]);
    expect(table?.obstacle).toBeUndefined();
  });
});
