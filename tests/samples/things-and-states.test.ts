// A thing (report, bottle, sample, counter) in a bad state, or not in a good one, in the words of laboratories in seven
// languages; and what they write of every sample. Common practice, no source.
import { describe, expect, test } from "vitest";
import { saysSomethingIsWrong } from "../../src/intake/samples/text-lines.js";
import { gatherTexts } from "../../src/intake/words/report-texts.js";
import { badStatement } from "../../src/samples/index.js";

const holdsAsLine = (line: string) => saysSomethingIsWrong({ row: 9, text: line, cells: [line] });
const holdsAsRemark = (cell: string) => {
  const { results, seen } = gatherTexts([{ holds: "remarks", cell, row: 2, column: "Remarks" }], []);
  const said = results.laboratorySays ?? [];
  return seen.length > 0 || said.some(({ column, text }) => badStatement(column, text) !== undefined);
};

/** Lines of text with strokes between them. */
const lines = ([text = ""]: TemplateStringsArray) =>
  text
    .split("|")
    .map((line) => line.trim())
    .filter((line) => line !== "");

/** What says that something is wrong, and its neighbours that do not; as a line around a table and as a remark. */
const SAID: Record<string, { readonly holds: readonly string[]; readonly free: readonly string[] }> = {
  "a sample that was stored too long": {
    holds: lines`
      Samples were stored for 9 months | Samples had been stored for two years before analysis
      | Sample was 8 months old on receipt | Proben wurden 9 Monate gelagert | Die Proben waren 9 Monate alt
      | Les échantillons ont été conservés 9 mois avant analyse | Las muestras estuvieron almacenadas 9 meses
      | I campioni sono stati conservati per 9 mesi | De monsters zijn 9 maanden bewaard voor analyse
      | As amostras foram armazenadas por 9 meses`,
    free: lines`
      Samples are stored for 3 months | Samples are kept for 30 days after reporting
      | Proben werden 3 Monate aufbewahrt | Les échantillons sont conservés 3 mois
      | Las muestras se conservan 3 meses | I campioni vengono conservati per 3 mesi
      | Monsters worden 3 maanden bewaard | As amostras são guardadas por 3 meses
      | Samples were stored at 20 °C for 24 h before counting | Retention samples will be stored for 6 months
      | Samples stored in the dark`,
  },
  "values that nobody checked": {
    holds: lines`
      Values entered by hand, not checked | Results transcribed manually and not verified
      | Werte von Hand eingetragen, nicht geprüft | Valeurs saisies à la main, non vérifiées
      | Valores introducidos a mano, no verificados | Valori inseriti a mano, non verificati
      | Waarden met de hand ingevoerd, niet gecontroleerd | Valores introduzidos à mão, não verificados
      | Data unchecked | Values not double-checked`,
    free: lines`
      Values entered by hand and checked by a second person | Werte von Hand eingetragen und geprüft
      | Data entered by: A. Person | Manual count by ISO 4407 | Results checked and approved`,
  },
  "what was lost": {
    holds: lines`
      Original lost | Original report lost; values from memory | Bottle lost | Sample lost in transit
      | Probe verloren gegangen | Originalbericht verloren | Échantillon perdu | Muestra perdida | Campione smarrito
      | Monster zoekgeraakt | Amostra perdida | Raw data lost`,
    free: lines`
      No sample was lost | Keine Probe ging verloren | Aucun échantillon perdu | Lost time injuries: 0`,
  },
  "results without a certificate": {
    holds: lines`
      Uncertified results | Results not certified | Nicht zertifizierte Ergebnisse | Résultats non certifiés
      | Resultados no certificados | Risultati non certificati | Niet gecertificeerde resultaten
      | Resultados não certificados`,
    free: lines`
      Laboratory certified to ISO 9001 | Uncontrolled copy when printed | Sampling is not accredited
      | Tests marked * are not accredited`,
  },
  "counts that disagree": {
    holds: lines`
      Second count differs by a factor of 3 | Replicate counts disagree | Duplicate results do not agree
      | Counts not reproducible | Poor repeatability of the counts | Zweite Zählung weicht um Faktor 3 ab
      | Les deux comptages diffèrent d'un facteur 3 | El segundo recuento difiere en un factor 3
      | Il secondo conteggio differisce di un fattore 3 | Tweede telling wijkt een factor 3 af
      | A segunda contagem difere por um fator de 3`,
    free: lines`
      Counts agree within 5 % | Second count agrees | Counts of the two runs do not differ
      | Results may differ from those of other laboratories | Repeatability 10 % | Zweite Zählung weicht nicht ab`,
  },
  "solids in the bottle": {
    holds: lines`
      Metal flakes in both bottles | Metallspäne in allen Flaschen | Copeaux métalliques dans tous les flacons
      | Virutas metálicas en todas las botellas | Trucioli metallici in tutti i flaconi
      | Metaalspanen in alle flessen | Limalhas metálicas em todos os frascos | Sediment in the bottles
      | Rust in the bottles | Sludge at the bottom of the bottles | Metal chips found in samples`,
    free: lines`
      No metal chips in the bottles | Metal chips: none | Metallspäne: keine | Samples in metal bottles
      | Sediment test by ASTM D2273 | Keine Späne in den Flaschen | Pas de copeaux dans les flacons`,
  },
  "an order to change the fluid": {
    holds: lines`
      Fluid must be changed | Oil has to be changed | Filters should be replaced | Das Öl muss gewechselt werden
      | Le fluide doit être remplacé | El fluido debe ser sustituido | Il fluido deve essere sostituito
      | O fluido deve ser substituído`,
    free: lines`
      Fluid need not be changed | Fluid was changed before sampling | Das Öl muss nicht gewechselt werden
      | The fluid must be changed every 12 months | Filters were replaced before sampling`,
  },
  "the counter and its checks": {
    holds: lines`
      Sensor dirty | High background in the blank | QC check pending | Resample | Counter blocked
      | Counter overloaded | Zähler verschmutzt | Capteur encrassé | Sensor sucio | Sensore sporco | Sensor vuil
      | Sensor sujo | Blank too high | Blindwert erhöht | Blanc trop élevé | Nachprobe | Rééchantillonner
      | Reagent expired | Titration failed | Laser weak, counts low | Air in the sensor
      | Counts exceed the sensor limit`,
    free: lines`
      Sensor clean | Sensor cleaned before counting | Blank: 12 per mL | Blank subtracted | QC check passed
      | QC check OK | Resample interval: 3 months | Resampling every 3 months
      | Coincidence limit of the counter: 30000 per mL | Counter: laser, 680 nm | Sensor checked, not dirty
      | Zähler sauber | Capteur propre`,
  },
  "samples before these": {
    holds: lines`
      Samples contaminated again | Last samples were clean, these are contaminated
      | All samples are contaminated, like the last ones | These samples are contaminated`,
    free: lines`
      Last samples were contaminated | The previous samples were contaminated
      | The samples of last month were contaminated | Die letzten Proben waren verschmutzt
      | Die vorigen Proben waren verschmutzt | Les derniers échantillons étaient pollués
      | Las muestras anteriores estaban contaminadas | I campioni precedenti erano contaminati
      | De vorige monsters waren vervuild | As amostras anteriores estavam contaminadas`,
  },
  "what is done in general": {
    holds: lines`
      Abnormal results are due to dirty bottles | Contaminated samples are in this report
      | Dirty samples were received | Abnormal results are listed below | All samples are contaminated`,
    free: lines`
      Dirty samples are diluted before counting | Stark verschmutzte Proben werden vor der Zählung verdünnt
      | Les échantillons pollués sont dilués avant comptage | Las muestras sucias se diluyen antes del recuento
      | I campioni sporchi vengono diluiti prima del conteggio | Vuile monsters worden verdund voor het tellen
      | Amostras sujas são diluídas antes da contagem | Abnormal results are reported by telephone
      | Auffällige Ergebnisse werden telefonisch gemeldet | Les résultats anormaux sont communiqués par téléphone
      | Los resultados anormales se comunican por teléfono | I risultati anomali vengono comunicati per telefono
      | Afwijkende resultaten worden telefonisch gemeld | Resultados anormais são comunicados por telefone
      | Abnormal samples are repeated | Contaminated samples will be reported immediately
      | Critical values are phoned to the customer`,
  },
  "what reports say of every sample": {
    holds: lines`
      `,
    free: lines`
      Samples were received in clean bottles | Analysis performed within 24 hours of receipt
      | Results apply to the sample as received | The laboratory is not responsible for sampling
      | Please keep the samples upright | Bottles supplied by the laboratory
      | Die Probenahme erfolgte durch den Kunden | Le prélèvement a été réalisé par le client
      | El muestreo fue realizado por el cliente | Il campionamento è stato eseguito dal cliente
      | De monstername is uitgevoerd door de klant | A amostragem foi realizada pelo cliente
      | Samples homogenised by shaking and ultrasonic bath | Samples were degassed under vacuum
      | No deviations from the method | Keine Abweichungen vom Verfahren | Sans écart à la méthode
      | Kalibriert bis 05/2027 | Report approved by A. Person | Freigegeben: A. Person | Confidential
      | Thank you for your order | Hazard: phosphate ester irritates the skin | Alarm limits as given by the customer
      | High-pressure sampling valve used | Contamination control program | Failure analysis laboratory
      | Quality control: A. Person | Samples drawn by crew 4 | Cart returned to service | Carts on hold: none
      | Next sampling: April | Sampling was done during circulation | Samples drawn after 15 min circulation
      | New filter elements fitted before sampling | Samples are destroyed after 30 days
      | Any complaint must be made within 14 days | Results marked * are outside the scope of accreditation
      | Dieser Bericht darf nur vollständig vervielfältigt werden
      | Les résultats ne concernent que les échantillons reçus
      | Los resultados se refieren únicamente a las muestras recibidas
      | I risultati si riferiscono solo ai campioni ricevuti
      | De resultaten hebben alleen betrekking op de ontvangen monsters
      | Os resultados referem-se apenas às amostras recebidas | Sampled by the crew, not by the laboratory
      | Measurement uncertainty is not taken into account | Decision rule: simple acceptance`,
  },
  "other ways to say that results are worth little": {
    holds: lines`
      Do not trust these numbers | Wrong bottles used | Bottles were not rinsed | Bottles reused from other carts
      | Samples drawn cold without circulation | Pump was off during sampling | Sample contaminated during handling
      | Water got into the bottles | Rain water entered the bottles | Test aborted | Test not completed
      | Analysis incomplete | Values are placeholders | To be confirmed | Demo data | Beispieldaten
      | Données fictives | Datos ficticios | Dati di prova | Voorbeeldgegevens | Dados fictícios | Test data only
      | Report withdrawn | Bericht zurückgezogen | Rapport annulé | Informe anulado | Rapporto ritirato
      | Rapport ingetrokken | Relatório cancelado | Corrected report follows | Samples smell burnt
      | Samples from wrong cart | Bottle caps were loose | Bottles not sealed | Results are wrong
      | These results are not correct | Numbers are guesses | Counting was interrupted
      | Particle counter was not cleaned | The counter was not calibrated | Values extrapolated
      | Not the final values | Awaiting confirmation | Counts are suspect | Samples unsuitable for analysis
      | Probe unbrauchbar | Échantillon inexploitable | Muestra no válida | Campione non valido | Monster onbruikbaar
      | Amostra inválida | The water result is wrong | Water results unreliable because of humidity
      | Acid number could not be measured reliably | Samples taken from the reservoir drain | Probe aus dem Ablass
      | Échantillon prélevé à la purge | Zirkulation war aus`,
    free: lines`
      `,
  },
  English: {
    holds: lines`
      These samples had been kept for 14 months | Numbers typed from a phone photo, not verified
      | Report not authorised | The certificate has been withdrawn | Sample bottles arrived unsealed
      | One of the bottles leaked | Seal of bottle S-1 was broken | Bottle closed with tape, contents leaked
      | The counts of the two runs differ by a factor of two | Replicates scatter by 60 % | Results do not repeat
      | Instrument drifted during the run | Blank count was too high | Blank not measured
      | Sensor blocked during counting | The counter's laser is weak | Counter overdue for calibration
      | Calibration overdue | QC sample failed | Control sample out of range | Reagent was exhausted
      | Titration could not be finished | Water content uncertain, titrator unstable | Result is an estimate
      | All figures estimated | Bottle label illegible | Wrong label on bottle | Sample identity uncertain
      | Two samples were swapped | Rust flakes in the sample | Water droplets at the bottom of all bottles
      | Fluid is cloudy in both bottles | Fluid should be changed | Filter must be replaced | Change the fluid
      | Purify the fluid | Cart must not be used | Cart unserviceable | Do not connect | Not fit for use
      | Taken from the drain valve | Sampled from the bottom of the tank | Samples drawn with pump stopped
      | Fluid was not circulating during sampling | Samples drawn without flushing the valve
      | Sampling valve was dirty | Results to be confirmed by second laboratory | Confirmation pending
      | Analysis not finished | This is not the final report | Final values will follow | Interim values
      | Data for training only | Simulated values | Numbers are invented | Samples too small for acid number
      | Sample volume insufficient`,
    free: lines`
      The bottles were stored upright | Samples are retained for one year | Numbers typed and checked twice
      | Report authorised by A. Person | The certificate is valid without signature | Sample bottles arrived sealed
      | None of the bottles leaked | Seals intact | The counts of the two runs agree | Replicates within 5 %
      | Instrument stable during the run | Blank count 3 per mL | Blank measured before each run
      | Sensor flushed between samples | Counter calibrated in May 2026 | Calibration not overdue | QC sample passed
      | Control sample within range | Reagent renewed | Uncertainty of water content 10 ppm
      | Result rounded to two digits | Label legible | Label and paperwork match | Sample identity confirmed
      | Particle counting by light obscuration | No visible metal | No rust | No water droplets
      | Fluid clear and bright | No smell | Fluid was changed in March | Filter replaced on 2026-02-01
      | Taken from the pressure line | Samples drawn with pump running | Fluid was circulating during sampling
      | Valve flushed with 1 L before sampling | Confirmed by second laboratory | Analysis finished
      | This is the final report | Bottles will be returned on request
      | Samples with less than 50 mL cannot be analysed | We recommend sampling every 90 days
      | The laboratory must be informed of any complaint within 14 days | Bottles are rinsed with filtered solvent
      | Results below the limit of quantification are given as < | The report must not be changed
      | Personal data are handled according to law | Training courses: ask us
      | Contact the laboratory before sending samples | Damaged bottles are not analysed`,
  },
  German: {
    holds: lines`
      Werte abgetippt, ungeprüft | Ergebnis unbestätigt | Bericht nicht unterschrieben und nicht freigegeben
      | Flasche undicht angekommen | Deckel war locker | Zähler verstopft | Sensor verschmutzt | Leerwert zu hoch
      | Kontrollprobe außerhalb der Toleranz | Kalibrierung überfällig | Zählungen streuen stark
      | Doppelbestimmung weicht ab | Wassergehalt unsicher | Proben sind trüb | Freies Wasser in allen Flaschen
      | Späne in der Probe | Probe aus dem Tankablass | Pumpe lief nicht | Öl wechseln | Filter tauschen
      | Wagen gesperrt | Nicht anschließen | Neue Proben erforderlich | Prüfung abgebrochen | Ergebnis nur geschätzt
      | Zuordnung der Flaschen unklar | Endgültiger Bericht folgt`,
    free: lines`
      Die Flaschen wurden stehend gelagert | Werte geprüft | Ergebnis bestätigt | Flaschen dicht angekommen
      | Deckel fest | Zähler gereinigt | Leerwert abgezogen | Kontrollprobe in Ordnung
      | Kalibrierung gültig bis 05/2027 | Zählungen stimmen überein | Messunsicherheit 10 % | Proben sind klar
      | Kein freies Wasser | Keine Späne | Geruch unauffällig | Probe aus der Druckleitung | Pumpe lief
      | Ölwechsel im März erfolgt | Filter vor der Probenahme getauscht | Wagen freigegeben
      | Rückstellproben werden 6 Monate gelagert | Beschädigte Flaschen werden zurückgesendet
      | Auf Wunsch senden wir neue Flaschen | Es gelten unsere Geschäftsbedingungen | Prüfung nach DIN EN ISO 11500`,
  },
  French: {
    holds: lines`
      Valeurs recopiées, non contrôlées | Résultats à confirmer | Flacon ouvert à la réception
      | Bouchon mal serré, fuite | Compteur bouché | Capteur sale | Blanc trop élevé | Étalonnage dépassé
      | Les comptages ne concordent pas | Teneur en eau incertaine | Échantillons troubles
      | Eau libre dans tous les flacons | Copeaux dans l'échantillon | Prélevé à la purge
      | Pompe arrêtée pendant le prélèvement | Vidanger le fluide | Remplacer le filtre | Chariot à ne pas raccorder
      | Nouveau prélèvement demandé | Essai interrompu | Valeurs estimées | Flacons intervertis
      | Rapport définitif à suivre`,
    free: lines`
      Valeurs contrôlées | Résultats confirmés | Flacons fermés à la réception | Compteur nettoyé | Capteur propre
      | Blanc soustrait | Étalonnage valable jusqu'en mai 2027 | Les comptages concordent | Incertitude 10 %
      | Échantillons limpides | Pas d'eau libre | Aucun copeau | Pas d'odeur | Prélevé sur la ligne de pression
      | Pompe en marche | Fluide vidangé en mars | Filtre remplacé avant le prélèvement | Chariot remis en service
      | Les flacons endommagés sont refusés | Ce rapport ne doit pas être reproduit, sinon en entier
      | Essais selon ISO 11500`,
  },
  Spanish: {
    holds: lines`
      Resultados por confirmar | Frasco abierto a la recepción | Tapón flojo | Contador obstruido | Sensor sucio
      | Blanco demasiado alto | Calibración caducada | Los recuentos no coinciden | Contenido de agua dudoso
      | Muestras turbias | Agua libre en todas las botellas | Virutas en la muestra | Tomada de la purga
      | Bomba parada durante el muestreo | Cambiar el fluido | Sustituir el filtro | No conectar el carro
      | Ensayo interrumpido | Valores estimados | Muestras intercambiadas`,
    free: lines`
      Valores comprobados | Resultados confirmados | Frascos cerrados a la recepción | Contador limpio
      | Sensor limpio | Calibración válida hasta mayo de 2027 | Los recuentos coinciden | Incertidumbre 10 %
      | Muestras transparentes | Sin agua libre | Sin virutas | Sin olor | Tomada de la línea de presión
      | Bomba en marcha | Fluido cambiado en marzo | Filtro sustituido antes del muestreo
      | Los frascos dañados se rechazan | Ensayos según ISO 11500`,
  },
  Italian: {
    holds: lines`
      Valori copiati a mano, non controllati | Risultati da confermare | Flacone aperto al ricevimento
      | Tappo lento, perdita | Contatore ostruito | Sensore sporco | Bianco troppo alto | Taratura scaduta
      | I conteggi non concordano | Contenuto d'acqua incerto | Campioni torbidi | Acqua libera in tutti i flaconi
      | Trucioli nel campione | Prelevato dallo scarico | Pompa ferma durante il prelievo | Sostituire il fluido
      | Cambiare il filtro | Non collegare il carrello | Nuovo campione richiesto | Prova interrotta | Valori stimati
      | Flaconi scambiati`,
    free: lines`
      Valori controllati | Risultati confermati | Flaconi chiusi al ricevimento | Contatore pulito
      | Taratura valida fino a maggio 2027 | I conteggi concordano | Incertezza 10 % | Campioni limpidi
      | Senza acqua libera | Nessun truciolo | Nessun odore | Prelevato dalla linea di pressione | Pompa in funzione
      | Fluido sostituito a marzo | I flaconi danneggiati vengono respinti | Prove secondo ISO 11500`,
  },
  Dutch: {
    holds: lines`
      Waarden overgetypt, niet gecontroleerd | Resultaten nog te bevestigen | Fles open ontvangen | Dop zat los
      | Teller verstopt | Sensor vuil | Blanco te hoog | Kalibratie verlopen | De tellingen komen niet overeen
      | Watergehalte onzeker | Monsters zijn troebel | Vrij water in alle flessen | Metaalspanen in het monster
      | Genomen uit de aftap | Pomp stond stil | Vloeistof verversen | Filter vervangen | Kar niet aansluiten
      | Nieuw monster nodig | Proef afgebroken | Waarden geschat | Flessen verwisseld`,
    free: lines`
      Waarden gecontroleerd | Resultaten bevestigd | Flessen gesloten ontvangen | Teller schoon
      | Kalibratie geldig tot mei 2027 | De tellingen komen overeen | Onzekerheid 10 % | Monsters zijn helder
      | Geen vrij water | Geen spanen | Geen geur | Genomen uit de drukleiding | Pomp draaide
      | Vloeistof ververst in maart | Beschadigde flessen worden geweigerd | Proeven volgens ISO 11500`,
  },
  Portuguese: {
    holds: lines`
      Valores copiados, não conferidos | Resultados a confirmar | Frasco aberto na recepção | Tampa solta
      | Contador entupido | Sensor sujo | Branco muito alto | Calibração vencida | As contagens não coincidem
      | Teor de água incerto | Amostras turvas | Água livre em todos os frascos | Limalha na amostra
      | Colhida no dreno | Bomba parada durante a colheita | Trocar o fluido | Substituir o filtro
      | Não ligar o carro | Nova amostra necessária | Ensaio interrompido | Valores estimados | Frascos trocados`,
    free: lines`
      Valores conferidos | Resultados confirmados | Frascos fechados na recepção | Contador limpo
      | Calibração válida até maio de 2027 | As contagens coincidem | Incerteza 10 % | Amostras límpidas
      | Sem água livre | Sem limalha | Sem cheiro | Colhida na linha de pressão | Bomba ligada
      | Fluido trocado em março | Os frascos danificados são recusados | Ensaios segundo ISO 11500`,
  },
  "more words for the same": {
    holds: lines`
      Both counters were down, figures carried over from January | Sample bottle had no cap
      | Fluid level in bottle too low for testing | Label washed off | Bottles mixed with those of another base
      | Sampled by pouring from the drum | Results doubtful | Report superseded by R-19 | Superseded | Provisional
      | Sensor fouled | Contamination of the bottle suspected | Sample exposed to rain | Bottle not capped
      | Test failed | Meter reading unstable | Syringe contaminated | Glassware not dry | Sample frozen in transit
      | All results under reserve | Ergebnisse unter Vorbehalt | Messwerte unplausibel | Probe eingefroren
      | Flasche ohne Deckel | Bericht ungültig | Résultats sujets à caution | Mesure non fiable | Échantillon gelé
      | Flacon sans bouchon | Resultados poco fiables | Botella sin tapón | Risultati inattendibili | Misura errata
      | Flacone senza tappo | Resultaten onbetrouwbaar | Fles zonder dop | Rapport vervangen
      | Resultados pouco fiáveis | Frasco sem tampa`,
    free: lines`
      Counters were serviced in January | Sample bottle capped and sealed | Fluid level in bottle sufficient
      | Sampled from the pressure line while circulating | First count 1000, second count 1020
      | No second opinion needed | This report supersedes R-18 | Sensor cleaned daily
      | No contamination of the bottle suspected | Count repeated three times, good agreement | Test passed
      | Meter reading stable | Glassware dried at 105 °C | Samples shipped at ambient temperature
      | All results approved | Ergebnisse freigegeben | Messwerte plausibel | Flasche mit Deckel | Bericht gültig
      | Mesure fiable | Flacon bouché | Resultados fiables | Medida correcta | Risultati attendibili
      | Resultaten betrouwbaar | Resultados fiáveis | Please quote the report number in any correspondence
      | Our opening hours: 8 to 16 | The sample will be disposed of after 60 days unless otherwise agreed
      | Data reported to two significant figures | Particle counts are cumulative | Counting time 30 s
      | The laboratory takes part in round robin tests | Proficiency test passed in 2025
      | Results are traceable to national standards | Test started on 2026-03-05, finished on 2026-03-06
      | Sampling port wiped before sampling | The counter is checked every week with a reference sample
      | A new certificate of calibration is available on request | Water is measured in duplicate, mean reported
      | Bottle number and cart number as given on the label | No remarks | Keine Bemerkungen | Sans remarque
      | Sin observaciones | Nessuna osservazione | Geen opmerkingen | Sem observações`,
  },
  "samples that a general sentence names": {
    holds: lines`
      Abnormal results are reported for S-1 and S-2 | Abnormal results are reported by telephone; S-1 failed
      | Dirty samples are diluted before counting; S-1 was dirty
      | Last samples were contaminated and these are as well | Previous samples were dirty, these are too
      | The last samples were rejected, do not use these either | Abnormal results are communicated: water too high
      | All abnormal samples are from this table | Die letzten Proben waren verschmutzt, diese sind es auch
      | Les derniers échantillons étaient pollués, ceux-ci aussi sont pollués
      | Contaminated bottles are in this delivery | Abnormal results are listed here
      | The last samples are contaminated | Both dirty samples are reported below`,
    free: lines`
      Abnormal results are reported by telephone within 24 hours | Abnormal samples are kept for 30 days
      | Previous samples were contaminated, these are clean | Contaminated samples are returned on request
      | Critical results are sent by e-mail`,
  },
  "headers and footers of everyday reports": {
    holds: lines`
      `,
    free: lines`
      Hydraulic fluid analysis report | Sample received in good condition on 2026-03-05
      | Analysis of hydraulic fluid samples, hangar 3 | Number of samples: 12
      | Samples taken by crew B during night shift | Sampling according to ISO 4021
      | Test methods: ISO 11500, ASTM D6304, ASTM D664 | Date of analysis: 2026-03-06
      | Open reservoir, bottle filled at the sampling valve | Bottles: 250 mL PET, ultra clean
      | Container type: glass, wide mouth | Lab reference 2026-4711, original report kept on file
      | Copy to: maintenance control | Distribution: quality department, crew chief | Second copy for the customer
      | Original: archive, copy: customer | Results reported as received
      | Values in brackets are below the quantification limit | Results are given per mL
      | Count by automatic particle counter | Blank corrected | Blank value subtracted from all counts
      | Counter flushed with clean solvent before each sample | Sample homogenised, degassed and counted three times
      | Mean of three counts | Volume counted: 3 x 10 mL | Shelf life of bottles: 2 years
      | New bottles are sent with this report | Empty bottles enclosed | Please return the empty bottles
      | Old fluid was disposed of by the customer | Filters changed on 2026-02-20
      | Cart serviced on 2026-02-20, filter replaced | Wet weather during sampling | Training of samplers available
      | Sampling kit no. 4, lot 12 | Expiry of reagent: 2027-01 | Control chart available
      | The results are considered confidential | Signed electronically, valid without signature
      | No part of this report may be copied | For questions call the laboratory
      | Your sample was analysed as requested | Results of the acid number follow separately
      | Acid number by potentiometric titration | The uncertainty of the result is 5 %
      | Estimated uncertainty of counts: 10 % | Uncertain? Ask us | All times are local
      | Temperature of sample when drawn: 35 °C | Contact: A. Person, tel. 12 34 56 | Analysis costs: see offer
      | Invoice will be sent separately | Quality is our business | Independent laboratory since 1985
      | Page 1 of 2, continued overleaf | Continued on next page | End of report | Ende des Prüfberichts
      | Fin du rapport d'essai | Fin del informe de ensayo | Fine del rapporto di prova | Einde van het rapport
      | Fim do relatório de ensaio | Prüfbericht Nr. 2026-17 | Rapport d'essai n° 17 | Informe de ensayo n.º 17
      | Rapporto di prova n. 17 | Testrapport nr. 17 | Relatório de ensaio n.º 17 | Probenahme durch den Auftraggeber
      | Proben ohne Beanstandung eingegangen | Analyse im Auftrag | Ergebnisse beziehen sich auf die Prüfgegenstände
      | Akkreditiertes Prüflaboratorium | Laboratoire accrédité | Laboratorio acreditado | Laboratorio accreditato
      | Geaccrediteerd laboratorium | Laboratório acreditado | Echantillon fourni par le client
      | Muestra suministrada por el cliente | Campione fornito dal cliente | Monster aangeleverd door de klant
      | Amostra fornecida pelo cliente | Kopie an Werkstatt | Copie à l'atelier | Copia al taller
      | Copia per officina | Kopie aan werkplaats | Cópia para a oficina | Incertitude élargie k = 2
      | Erweiterte Messunsicherheit k = 2 | Incertidumbre expandida k = 2 | Prelievo eseguito a caldo, pompa in moto
      | Prélèvement à chaud, pompe en marche | Probe bei laufender Pumpe gezogen | Toma con bomba en marcha
      | Colheita com a bomba a trabalhar | Monstername bij draaiende pomp`,
  },
};

describe.each(Object.entries(SAID))("%s", (_, { holds, free }) => {
  test.each([
    ["as a line around a table", holdsAsLine],
    ["as a remark", holdsAsRemark],
  ])("%s", (__, isHeld) => {
    expect(holds.filter((text) => !isHeld(text))).toEqual([]);
    expect(free.filter(isHeld)).toEqual([]);
  });
});
