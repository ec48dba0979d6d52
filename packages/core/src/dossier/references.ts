import { asMarkup, escapeText, html, keepTogether, type Markup } from './markup.js';

/** Every work the dossier cites, in full, so that it needs nothing beside it. The same texts stand in docs/sources.md. */
export const references: Readonly<Record<string, string>> = {
  ARRHENIUS:
    'S. Arrhenius, "Über die Reaktionsgeschwindigkeit bei der Inversion von Rohrzucker durch Säuren", Zeitschrift für physikalische Chemie 4 (1889) 226-248.',
  'BAI-PERRON-03':
    'J. Bai, P. Perron, "Computation and analysis of multiple structural change models", Journal of Applied Econometrics 18 (2003) 1-22.',
  'BURNHAM-ANDERSON':
    'K. P. Burnham, D. R. Anderson, Model Selection and Multimodel Inference, 2nd edition, Springer 2002.',
  'DUNNETT-1955':
    'C. W. Dunnett, "A multiple comparison procedure for comparing several treatments with a control", Journal of the American Statistical Association 50 (1955) 1096-1121.',
  'FRITSCH-BUTLAND-84':
    'F. N. Fritsch, J. Butland, "A method for constructing local monotone piecewise cubic interpolants", SIAM Journal on Scientific and Statistical Computing 5 (1984) 300-304.',
  'GEYER-92': 'C. J. Geyer, "Practical Markov chain Monte Carlo", Statistical Science 7 (1992) 473-483.',
  'GOLUB-PEREYRA-73':
    'G. H. Golub, V. Pereyra, "The differentiation of pseudo-inverses and nonlinear least squares problems whose variables separate", SIAM Journal on Numerical Analysis 10 (1973) 413-432.',
  'HOLM-1979':
    'S. Holm, "A simple sequentially rejective multiple test procedure", Scandinavian Journal of Statistics 6 (1979) 65-70.',
  'IAPWS-R7-97':
    'International Association for the Properties of Water and Steam, Revised Release on the IAPWS Industrial Formulation 1997, R7-97(2012).',
  'ICAO-7488': 'ICAO, Manual of the ICAO Standard Atmosphere, Doc 7488, 3rd edition, 1993.',
  'IEC-60584-1': 'IEC 60584-1:2013, Thermocouples, Part 1: EMF specifications and tolerances.',
  'IEC-60751':
    'IEC 60751:2022, Industrial platinum resistance thermometers and platinum temperature sensors.',
  'JCGM-100':
    'JCGM 100:2008, Evaluation of measurement data: Guide to the expression of uncertainty in measurement.',
  'KENWARD-ROGER-97':
    'M. G. Kenward, J. H. Roger, "Small sample inference for fixed effects from restricted maximum likelihood", Biometrics 53 (1997) 983-997.',
  'KRAMER-1956':
    'C. Y. Kramer, "Extension of multiple range tests to group means with unequal numbers of replications", Biometrics 12 (1956) 307-310.',
  'LORENSEN-CLINE-87':
    'W. E. Lorensen, H. E. Cline, "Marching cubes: a high resolution 3D surface construction algorithm", Computer Graphics 21 (1987) 163-169.',
  'MENKE-12': 'W. Menke, Geophysical Data Analysis: Discrete Inverse Theory, 3rd edition, 2012.',
  'NAUMANN-18':
    'M. Naumann and others, "Analysis and modeling of calendar aging of a commercial LiFePO4/graphite cell", Journal of Energy Storage 17 (2018) 153-169.',
  'NIST-MONO-175':
    'G. W. Burns, M. G. Scroger, G. F. Strouse, M. C. Croarkin, W. F. Guthrie, Temperature-electromotive force reference functions and tables for the letter-designated thermocouple types based on the ITS-90, NIST Monograph 175, 1993.',
  'NIST-STRD': 'NIST, Statistical Reference Datasets, nonlinear regression, Misra1a and Misra1b.',
  'PATTERSON-THOMPSON-71':
    'H. D. Patterson, R. Thompson, "Recovery of inter-block information when block sizes are unequal", Biometrika 58 (1971) 545-554.',
  'ROACHE-94':
    'P. J. Roache, "Perspective: a method for uniform reporting of grid refinement studies", Journal of Fluids Engineering 116 (1994) 405-413.',
  'SCHMALSTIEG-14':
    'J. Schmalstieg and others, "A holistic aging model for Li(NiMnCo)O2 based 18650 lithium-ion batteries", Journal of Power Sources 257 (2014) 325-334.',
  'SCHUIRMANN-87':
    'D. J. Schuirmann, "A comparison of the two one-sided tests procedure and the power approach for assessing the equivalence of average bioavailability", Journal of Pharmacokinetics and Biopharmaceutics 15 (1987) 657-680.',
  'SMITH-17':
    'K. Smith and others, "Life prediction model for grid-connected Li-ion battery energy storage system", American Control Conference 2017.',
  'STEINHART-HART-68':
    'J. S. Steinhart, S. R. Hart, "Calibration curves for thermistors", Deep-Sea Research 15 (1968) 497-503.',
  'TARANTOLA-05':
    'A. Tarantola, Inverse Problem Theory and Methods for Model Parameter Estimation, SIAM, 2005.',
  'USSA-76': 'NOAA, NASA, USAF, U.S. Standard Atmosphere, 1976.',
  'WANG-11':
    'J. Wang and others, "Cycle-life model for graphite-LiFePO4 cells", Journal of Power Sources 196 (2011) 3942-3948.',
  'WANG-14':
    'J. Wang and others, "Degradation of lithium ion batteries employing graphite negatives and nickel-cobalt-manganese oxide + spinel manganese oxide positives", Journal of Power Sources 269 (2014) 937-948.',
};

/** Our own words with each key in brackets made a link to the list of references; a key without an entry stays as it is. */
export function cite(words: string): Markup {
  return asMarkup(
    escapeText(keepTogether(words)).replace(/\[([A-Z][A-Za-z0-9-]*)\]/g, (whole, key: string) =>
      references[key] === undefined ? whole : `<a class="key" href="#ref-${key}">${whole}</a>`,
    ),
  );
}

export function writeReferences(): Markup {
  return html`<dl class="refs">${Object.entries(references).map(([key, text]) => html`<div id="ref-${key}"><dt>[${key}]</dt><dd>${text}</dd></div>`)}</dl>
<p class="small">Most of these works were read second hand or from memory and are held against independent numbers by the tests of the program; its own list of sources says which.</p>`;
}
