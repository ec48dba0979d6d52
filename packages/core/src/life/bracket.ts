/** How much longer cells last in one set-up than in another: a range, never a year count. */
export interface LifeBracket {
  readonly baseline: string;
  readonly rows: readonly {
    readonly setup: string;
    /** Life in this set-up over life in the baseline, lowest and highest over the published activation energies. */
    readonly factor: readonly [number, number];
    /** The same with the temperatures' own 95 % interval added. */
    readonly factor95: readonly [number, number];
    /** Cell temperatures the row rests on, °C. */
    readonly load_C: number;
    readonly idle_C: number;
    readonly byModel: readonly {
      readonly model: string;
      readonly activation_kJ_per_mol: number;
      readonly factor: number;
    }[];
  }[];
  readonly conditions: string;
  readonly missing: readonly string[];
}
