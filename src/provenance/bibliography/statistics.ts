import type { Source } from "./source.js";

/** Statistics, special functions and the propagation of uncertainty. */
export const STATISTICS = {
  "ISO-TS-19036": {
    title:
      "ISO/TS 19036, measurement uncertainty of counts: variance of log10 is 0.18861/N plus reproducibility",
    edition: "2006, amendment 1:2009",
    clause: "8.2",
    standing: "single",
  },
  "JCGM-101": {
    title: "JCGM 101, propagation of distributions using a Monte Carlo method",
    edition: "2008",
    clause: "7.9.2 and 8, numerical tolerance from the significant digits of the standard uncertainty",
    standing: "memory",
  },
  SEN: {
    title: "P. K. Sen, Estimates of the regression coefficient based on Kendall's tau",
    edition: "J. Am. Stat. Assoc. 63 (1968) 1379-1389",
    standing: "memory",
  },
  "SERIAL-CORRELATION": {
    title:
      "Lag-1 correlation of residuals, its scatter about −1/n for independent results, and its effect on the Mann-Kendall test",
    edition: "textbook formula; Hamed and Rao, J. Hydrology 204 (1998) 182-196",
    standing: "memory",
  },
  "ISO-5725-2": {
    title:
      "ISO 5725-2, repeatability and reproducibility standard deviation: variances of cells pooled by degrees of freedom",
    edition: "1994 and 2019; agrees with the worked serum glucose example of ASTM E691",
    standing: "memory",
  },
  "TWO-WAY-LAYOUT": {
    title:
      "Least squares of an incomplete two-way layout without interaction; D. C. Montgomery, Design and analysis of experiments",
    edition:
      "balanced incomplete blocks, catalyst example: data on one page, results recalled and recomputed",
    standing: "computed",
  },
  GARWOOD: {
    title: "F. Garwood, Fiducial limits for the Poisson distribution",
    edition: "Biometrika 28 (1936) 437-442; formula and values on two pages",
    standing: "confirmed",
  },
  JEFFREYS: {
    title: "H. Jeffreys, An invariant form for the prior probability in estimation problems",
    edition: "Proc. R. Soc. A 186 (1946) 453-461",
    standing: "memory",
  },
  ASSOCIATION: {
    title: "J. D. Esary, F. Proschan, D. W. Walkup, Association of random variables, with applications",
    edition: "Ann. Math. Stat. 38 (1967) 1466-1474",
    standing: "memory",
  },
  "INDEX-OF-DISPERSION": {
    title: "R. A. Fisher, Statistical methods for research workers, index of dispersion",
    edition: "the Poisson series",
    standing: "memory",
  },
  "DLMF-8": {
    title: "NIST Digital Library of Mathematical Functions, incomplete gamma functions",
    edition: "8.4.10, 8.9.2, 8.11.4 and 5.11.1",
    standing: "memory",
  },
  WEST: {
    title: "G. West, Better approximations to cumulative normal functions",
    edition: "Wilmott, May 2005",
    standing: "memory",
  },
  "DLMF-8-17": {
    title: "NIST Digital Library of Mathematical Functions, incomplete beta function",
    edition: "web edition",
    clause: "8.17.22",
    standing: "memory",
  },
  "MANN-KENDALL": {
    title: "EPA QA/G-9S, Data quality assessment: statistical methods for practitioners",
    edition: "2006",
    clause: "Mann-Kendall test, page 109",
    standing: "single",
  },
  "KENDALL-EXACT": {
    title: "EPA QA/G-9S, small-sample table of the Mann-Kendall test",
    edition: "2006; agrees with counting all orders",
    standing: "single",
  },
  "MANN-KENDALL-FORM": {
    title: "Wisconsin administrative form of the Mann-Kendall test",
    edition: "county document scan",
    standing: "single",
  },
  HELSEL: {
    title:
      "D. R. Helsel, Nondetects and data analysis: Kendall's tau where pairs of unknown order count as ties",
    edition: "2005, as restated by the manual of a censored-data package",
    standing: "one-document",
  },
  DANIELS: {
    title:
      "H. E. Daniels, The relation between measures of correlation in the universe of sample permutations",
    edition: "Biometrika 33 (1944) 129-135",
    standing: "memory",
  },
  "HIRSCH-SLACK-SMITH": {
    title:
      "R. M. Hirsch, J. R. Slack, R. A. Smith, Techniques of trend analysis for monthly water quality data",
    edition: "Water Resour. Res. 18 (1982) 107-121",
    standing: "memory",
  },
  "MARSAGLIA-TSANG": {
    title: "G. Marsaglia, W. W. Tsang, A simple method for generating gamma variables",
    edition: "ACM Trans. Math. Softw. 26 (2000) 363-372",
    standing: "memory",
  },
  "MARSAGLIA-TSANG-ZIGGURAT": {
    title: "G. Marsaglia, W. W. Tsang, The ziggurat method for generating random variables",
    edition: "J. Stat. Softw. 5 (2000) issue 8",
    standing: "memory",
  },
  MATOUSEK: {
    title: "J. Matoušek, Randomized optimal algorithm for slope selection",
    edition: "Inf. Process. Lett. 39 (1991) 183-187",
    standing: "memory",
  },
  "AKRITAS-THEIL-SEN": {
    title: "M. G. Akritas, S. A. Murphy, M. P. LaValley, The Theil-Sen estimator with doubly censored data",
    edition: "J. Am. Stat. Assoc. 90 (1995) 170-177, as restated by the manual of a censored-data package",
    standing: "one-document",
  },
  TURNBULL: {
    title:
      "B. W. Turnbull, The empirical distribution function with arbitrarily grouped, censored and truncated data",
    edition: "J. R. Stat. Soc. B 38 (1976) 290-295",
    standing: "memory",
  },
  "HELSEL-HIRSCH": {
    title: "D. R. Helsel, R. M. Hirsch, Statistical methods in water resources",
    edition: "chapter 10",
    standing: "memory",
  },
  HUBER: {
    title: "P. J. Huber, Robust estimation of a location parameter",
    edition: "Ann. Math. Stat. 35 (1964) 73-101",
    standing: "memory",
  },
  SANDWICH: {
    title: "H. White, A heteroskedasticity-consistent covariance matrix estimator",
    edition: "Econometrica 48 (1980) 817-838",
    standing: "memory",
  },
  "IGLEWICZ-HOAGLIN": {
    title: "B. Iglewicz, D. C. Hoaglin, How to detect and handle outliers: modified z-score beyond 3.5",
    edition: "1993",
    standing: "memory",
  },
  FIELLER: {
    title: "E. C. Fieller, Some problems in interval estimation",
    edition: "J. R. Stat. Soc. B 16 (1954) 175-185",
    standing: "memory",
  },
  "LUND-REEVES": {
    title:
      "R. Lund, J. Reeves, Detection of undocumented changepoints: a revision of the two-phase regression model",
    edition: "J. Climate 15 (2002) 2547-2554",
    standing: "memory",
  },
  WANG: {
    title:
      "X. L. Wang, Comments on 'Detection of undocumented changepoints': a step in a series with one trend",
    edition: "J. Climate 16 (2003) 3383-3385",
    standing: "memory",
  },
  "ISO-4259": {
    title: "ISO 4259, application of precision data to limits",
    edition: "as restated by a marine fuel supplier; the factor is arithmetic",
    clause: "9",
    standing: "one-document",
  },
  "JCGM-106": {
    title: "JCGM 106, the role of measurement uncertainty in conformity assessment",
    edition: "2012",
    clause: "conformance probability, guarded acceptance, risks",
    standing: "memory",
  },
  "JCGM-106-BEARINGS": {
    title: "JCGM 106, global risk of accepting ball bearings",
    edition: "2012; restated by a national laboratory, agrees with quadrature",
    clause: "9.5.4",
    standing: "confirmed",
  },
} as const satisfies Record<string, Source>;
