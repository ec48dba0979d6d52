/** Drawing: pictures as data, laid out for a width, the same on a page and on paper. */

export { drawField } from './draw-field.js';
export {
  type FieldDrawing,
  type FieldFrame,
  type FieldMark,
  type FieldOutline,
  type FieldView,
  placeInFrame,
} from './field-view.js';
export { drawIntervals } from './interval-plot.js';
export type { IntervalMark, IntervalRow, IntervalView } from './interval-view.js';
export { type KnotField, knotsOfCells, levelAt } from './isotherm.js';
export { type LevelLook, levelIcon, levelShape } from './level-shape.js';
export { locateProbe } from './locate-probe.js';
export { paintField, temperatureTable } from './paint-field.js';
export { drawPlan, type PlanView } from './plan.js';
export { probeTag, probeTitle } from './probe-tag.js';
export { drawRunChart } from './run-chart.js';
export { type RunChartScales, runChartScales } from './run-chart-scales.js';
export type { RunChartLine, RunChartPlateau, RunChartView } from './run-chart-view.js';
export { drawSection, formatThickness, type SectionDrawing } from './section.js';
export { drawSectionDetail } from './section-detail.js';
export {
  type SectionLayer,
  type SectionProbe,
  type SectionRow,
  type SectionView,
  type SectionZone,
  sectionDepths,
  stripStarts,
} from './section-view.js';
export { type Drawing, drawingText, type Shape } from './shape.js';
export {
  drawTemperatureScale,
  type ScaleMark,
  type TemperatureAnchors,
  temperatureAnchors,
  temperatureColour,
  temperatureScaleTop_C,
  temperatureStops,
} from './temperature-scale.js';
export type { WordRun } from './text-width.js';
export { type Box, boxesOverlap, findTextBoxes, textWidth_px } from './text-width.js';
export { RunChartWindows } from './window-run-chart.js';
