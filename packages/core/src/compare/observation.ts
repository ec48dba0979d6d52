/** One run's settled rise: the unit of every comparison. */
export interface Observation {
  readonly run: string;
  readonly setup: string;
  readonly session: string;
  /** Runs of one mounting share how the pack was put in. */
  readonly mounting: string;
  readonly rise_K: number;
  /** Doubt from within the run, K. */
  readonly u_K: number;
  /** Room while it was settled. */
  readonly ambient_C?: number;
}

/** Which mounting a run belongs to. A pack that is taken out to change the set-up is mounted anew, whatever the name says. */
export function mountingOf({ setup, mounting }: Pick<Observation, 'setup' | 'mounting'>): string {
  return `${setup}\n${mounting}`;
}
