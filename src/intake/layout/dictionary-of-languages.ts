import { words } from "../../samples/index.js";

// Titles in German, French, Spanish, Italian, Dutch and Portuguese (common practice, no source). A word that names something
// else as often is not here: "Eingang" is an inlet too, "Probe" a sensor; see MAYBE_NAMING.

/** What names a sample, and the columns of a long file. */
export const NAMING_ELSEWHERE = {
  sample: words`
    probe nr, probennr, probenummer, probennummer, proben id, probenkennung, probenkennzeichen,
    probenkennzeichnung, nummer der probe, flasche, flaschen nr, flaschennummer,
    échantillon, échantillon n, n échantillon, no échantillon, n d échantillon, n de l échantillon, numéro échantillon,
    numéro d échantillon, numéro de l échantillon, id échantillon, identifiant échantillon,
    identifiant de l échantillon, réf échantillon, référence échantillon, référence de l échantillon, flacon,
    n flacon, n de flacon, n du flacon, numéro de flacon, numéro du flacon,
    muestra, muestra n, n muestra, no muestra, n de muestra, número de muestra, id muestra, id de muestra,
    código de muestra, frasco, n de frasco, número de frasco,
    campione, n campione, numero campione, numero del campione, id campione, codice campione, flacone,
    monster, monsternr, monsternummer, nummer monster, monster id, flesnummer,
    amostra, n amostra, n da amostra, número da amostra, id da amostra, código da amostra`,
  cart: words`
    wagen, wagen nr, wagennummer, hydraulikwagen, hydraulik bodengerät, hydraulikaggregat,
    chariot, chariot n, n chariot, n de chariot, n du chariot, numéro de chariot, numéro du chariot, chariot hydraulique,
    banc hydraulique, groupe hydraulique,
    carro, carro n, n carro, n de carro, número de carro, carro hidráulico, carrello, n carrello, numero carrello,
    carrello idraulico, kar, karnummer, hydrauliekwagen, carrinho, carrinho hidráulico`,
  circuit: words`
    kreis, kreis nr, kreislauf, hydraulikkreis, hydraulikkreislauf, circuit n, n circuit, n de circuit, n du circuit,
    nom du circuit, circuit hydraulique, circuito, n circuito, n de circuito, circuito hidráulico,
    circuito idraulico, hydraulisch circuit`,
  drawn: words`
    probenahmedatum, probenahmetag, probenahme am, probenahmezeitpunkt, probenentnahmedatum,
    probenentnahme am, datum probenahme, datum der probenahme, datum der probenentnahme, datum der entnahme,
    tag der probenahme, tag der entnahme, entnahmedatum, entnahmetag, entnahme am, entnahmezeitpunkt,
    entnommen am, gezogen am, probe gezogen am, probe entnommen am, beprobt am,
    date prélèvement, date de prélèvement, date du prélèvement, date et heure de prélèvement,
    date échantillonnage, date d échantillonnage, jour de prélèvement, prélèvement le, prélevé le,
    échantillon prélevé le,
    fecha muestreo, fecha de muestreo, fecha de toma, fecha de toma de muestra, fecha de la muestra,
    fecha de extracción, muestreado el, tomado el,
    data campionamento, data di campionamento, data del campionamento, data prelievo, data di prelievo,
    data del prelievo, campionato il, prelevato il,
    monsternamedatum, datum monstername, datum van monstername, datum bemonstering, bemonsterd op,
    data de amostragem, data da amostragem, data de coleta, data da coleta, data de colheita, amostrado em,
    coletado em`,
  "drawn-time": words`
    probenahmezeit, entnahmezeit, uhrzeit probenahme, uhrzeit der probenahme, uhrzeit der entnahme,
    zeit der probenahme, heure prélèvement, heure de prélèvement, heure du prélèvement, prélevé à,
    hora muestreo, hora de muestreo, hora de toma, ora prelievo, ora di prelievo, ora di campionamento,
    monsternametijd, tijd monstername, tijdstip monstername, hora de amostragem, hora de coleta,
    hora da coleta`,
  received: words`
    eingangsdatum, probeneingang, eingegangen am, eingang am, erhalten am, date réception,
    date de réception, reçu le, réceptionné le, fecha recepción, fecha de recepción, recibido el,
    data ricevimento, data di ricevimento, data di ricezione, data di arrivo, ricevuto il, ontvangen op,
    ontvangstdatum, datum ontvangst, data de recebimento, data de recepção, data de receção, recebido em`,
  reported: words`
    berichtsdatum, berichtdatum, datum bericht, datum des berichts, bericht vom, date rapport,
    date de rapport, date du rapport, rapport du, fecha informe, fecha de informe, fecha del informe,
    data rapporto, data del rapporto, rapportdatum, rapportagedatum, datum rapport, data do relatório,
    data do laudo`,
  "calibration-due": words`
    kalibriert bis, kalibrierung gültig bis, kalibrierung fällig, nächste kalibrierung,
    étalonné jusqu au, étalonnage valable jusqu au, étalonnage valide jusqu au, prochain étalonnage,
    calibrado hasta, calibración válida hasta, próxima calibración, taratura valida fino al,
    calibrazione valida fino al, prossima taratura, prossima calibrazione, gekalibreerd tot,
    kalibratie geldig tot, volgende kalibratie, calibrado até, calibração válida até, próxima calibração`,
  fluid: words`
    flüssigkeit, flüssigkeitssorte, flüssigkeitstyp, flüssigkeitsspezifikation, fluidtyp, hydraulikflüssigkeit,
    hydrauliköl, ölsorte, öltyp, ölart,
    fluide, fluide hydraulique, type de fluide, nature du fluide, spécification du fluide, type d huile,
    huile hydraulique, fluido, tipo de fluido, fluido hidráulico, especificación del fluido, tipo de aceite,
    aceite hidráulico, tipo di fluido, fluido idraulico, specifica del fluido, tipo olio, tipo di olio,
    olio idraulico, vloeistof, vloeistoftype, type vloeistof, hydraulische vloeistof, hydrauliekvloeistof,
    oliesoort, olietype, especificação do fluido, tipo de óleo, óleo hidráulico`,
  measurand: words`
    prüfparameter, prüfmerkmal, messgröße, paramètre, grandeur, grandeur mesurée, parámetro, parametro,
    parâmetro, bepaling`,
  value: words`
    wert, messwert, ergebnis, ergebnisse, valeur, valeur mesurée, résultat, résultats, valor, valor medido,
    resultado, resultados, valore, valore misurato, risultato, risultati, waarde, meetwaarde, resultaat`,
  unit: words`einheit, einheiten, unité, unités, unidad, unidades, unità, eenheid, eenheden, unidade`,
} as const;

/** What a report says in words about the bottle, and simple tests of it. */
export const BOTTLE_TITLES_ELSEWHERE = {
  colour: words`farbe, couleur, colore, kleur, cor`,
  appearance: words`
    aussehen, sichtprüfung, aspect, apparence, aspect visuel, aspecto, apariencia, aspetto, uiterlijk,
    aparência`,
  "sample-point": words`
    probenahmestelle, probenahmepunkt, entnahmestelle, entnahmepunkt, point de prélèvement,
    point d échantillonnage, punto de muestreo, punto di prelievo, monsternamepunt, ponto de amostragem`,
  flowing: words`pumpe läuft, pompe en marche, en circulation`,
  fibres: words`fasern, fibras, vezels`,
  crackle: words`
    spratzprobe, knistertest, test de crépitement, crépitement, prueba de crepitación, crepitación,
    prova di crepitio, knettertest`,
  smell: words`geruch, odeur, olor, odore, geur, cheiro`,
} as const;

/** What viscosity is called; a title needs its temperature with it. */
export const VISCOSITY_ELSEWHERE = words`
  viskosität, kinematische viskosität, kin viskosität, viscosité, viscosité cinématique, viscosidad,
  viscosidad cinemática, viscosità, viscosità cinematica, viscositeit, kinematische viscositeit, viscosidade,
  viscosidade cinemática`;

/** The names of quantities, as the English ones. */
export const QUANTITIES_ELSEWHERE = {
  water: words`
    wasser, wassergehalt, eau, teneur en eau, agua, contenido de agua, contenido en agua, acqua,
    contenuto d acqua, contenuto di acqua, watergehalte, água, teor de água`,
  acid: words`
    säurezahl, gesamtsäurezahl, neutralisationszahl, indice d acide, indice d acidité, acidité totale,
    número de acidez, índice de acidez, numero di acidità, indice di acidità, acidità totale, zuurgetal,
    totaal zuurgetal, neutralisatiegetal, número de acidez total`,
  viscosity40: VISCOSITY_ELSEWHERE.flatMap((name) =>
    ["", "bei ", "à ", "a ", "bij ", "@ "].map((at) => `${name} ${at}40 c`),
  ),
  temperature: words`
    fluidtemperatur, öltemperatur, probentemperatur, temperatur der flüssigkeit, température du fluide,
    température de l huile, temperatura del fluido, temperatura del aceite, temperatura do fluido,
    temperatura do óleo, temperatura dell olio, olietemperatuur, vloeistoftemperatuur`,
  density15: words`
    dichte bei 15 c, dichte 15 c, densité à 15 c, masse volumique à 15 c, densidad a 15 c, densità a 15 c,
    dichtheid bij 15 c, densidade a 15 c`,
  chlorine: words`
    chlor, chlorgehalt, chlore, teneur en chlore, cloro, contenido de cloro, chloor, chloorgehalte,
    teor de cloro`,
  counted: words`
    zählvolumen, gezähltes volumen, volume compté, volume analysé, volumen contado, volume contato,
    geteld volume, volume contado`,
} as const;

/** The names of metals, by their symbols. */
export const METALS_ELSEWHERE = {
  al: words`aluminio, alluminio, alumínio`,
  ca: words`kalzium, calcio, cálcio`,
  cr: words`chrom, chrome, cromo, chroom`,
  cu: words`kupfer, cuivre, cobre, rame, koper`,
  fe: words`eisen, fer, hierro, ferro, ijzer`,
  pb: words`blei, plomb, plomo, piombo, lood, chumbo`,
  mg: words`magnésium, magnesio, magnésio`,
  ni: words`níquel, nichel, nikkel`,
  k: words`kalium, potasio, potassio, potássio`,
  si: words`silizium, silicium, silicio, silício`,
  ag: words`silber, argent, plata, argento, zilver, prata`,
  na: words`natrium, sodio, sódio`,
  sn: words`zinn, étain, estaño, stagno, estanho`,
  ti: words`titan, titane, titanio, titânio`,
  zn: words`zink, cinc, zinco`,
} as const;
