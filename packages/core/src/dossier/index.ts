/** Dossier: can others trust and repeat it? The build, its results and how they came about, as one file. */
export { dossierHeatWork } from './dossier-heat.js';
export { renderDossier } from './render-dossier.js';
