import type { Layer } from '../records/index.js';
import type { TemperatureAnchors } from './temperature-scale.js';

export interface SectionZone {
  readonly id: string;
  readonly name: string;
  readonly x_mm: number;
  readonly length_mm: number;
  readonly height_mm: number;
  /** False where the zone lies beside the cut and is only seen behind it. */
  readonly isCut: boolean;
}

export interface SectionLayer {
  readonly name: string;
  readonly material: Layer['material'];
  readonly thickness_mm: number;
  readonly x_mm: number;
  readonly length_mm: number;
  readonly strips: { readonly count: number; readonly width_mm: number } | null;
}

export interface SectionProbe {
  readonly probe: string;
  readonly place: 'zone' | 'cell' | 'shell';
  readonly x_mm: number;
  /** The zone it sits on, for the height of the ring. */
  readonly zone: string | null;
  readonly tag: string;
  /** "C1 52.9 ± 0.4", and without the doubt for little room. */
  readonly figure: string;
  readonly shortFigure: string;
  /** Colours the chip; null where nothing was read. */
  readonly level_C: number | null;
  readonly sub: string | null;
  readonly shortSub: string | null;
}

/** One row of the column beside the section, from the front to the back. */
export interface SectionRow {
  readonly name: string;
  readonly thickness_mm: number;
  /** Depth of its middle below the front face; the leader starts there. */
  readonly middle_mm: number;
  /** In bold: the layer a page speaks of. */
  readonly isSubject: boolean;
}

/** The device cut through along its length, front shell on top. */
export interface SectionView {
  readonly label: string;
  readonly length_mm: number;
  readonly frontShell_mm: number;
  readonly frontGap_mm: number;
  readonly board: { readonly x_mm: number; readonly length_mm: number; readonly thickness_mm: number };
  readonly bay_mm: number;
  readonly backShell_mm: number;
  readonly zones: readonly SectionZone[];
  /** Between the board and the first layer: as high as the tallest zone the pack lies under. */
  readonly zoneRoom_mm: number;
  /** From the zones towards the pack. */
  readonly layers: readonly SectionLayer[];
  readonly pack: { readonly x_mm: number; readonly length_mm: number; readonly thickness_mm: number };
  /** One caption for each cell in series; one alone draws the pack as a block. */
  readonly cells: readonly string[];
  /** What the bay leaves for swelling; below zero the set-up is too thick for the bay. */
  readonly reserve_mm: number;
  readonly rows: readonly SectionRow[];
  readonly probes: readonly SectionProbe[];
  readonly anchors: TemperatureAnchors;
  /** Where the hottest zone is cut; a detail is taken around it. */
  readonly focus_mm: number;
}

/** Depths from the outer face of the front shell, mm. */
export interface SectionDepths {
  readonly gap: number;
  readonly board: number;
  readonly boardBack: number;
  readonly layers: number;
  readonly pack: number;
  readonly packBack: number;
  readonly backShell: number;
  readonly total: number;
}

export function sectionDepths(view: SectionView): SectionDepths {
  const gap = view.frontShell_mm;
  const board = gap + view.frontGap_mm;
  const boardBack = board + view.board.thickness_mm;
  const layers = boardBack + view.zoneRoom_mm;
  const pack = layers + view.layers.reduce((sum, layer) => sum + layer.thickness_mm, 0);
  const packBack = pack + view.pack.thickness_mm;
  const backShell = boardBack + view.bay_mm;
  return { gap, board, boardBack, layers, pack, packBack, backShell, total: backShell + view.backShell_mm };
}

/** Left ends of evenly spaced strips: the outer ones flush with the ends, a single one in the middle. */
export function stripStarts(
  x_mm: number,
  length_mm: number,
  strips: { readonly count: number; readonly width_mm: number },
): number[] {
  const free = length_mm - strips.width_mm;
  if (strips.count === 1) return [x_mm + free / 2];
  return Array.from({ length: strips.count }, (_, index) => x_mm + (index * free) / (strips.count - 1));
}
