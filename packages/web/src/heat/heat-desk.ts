import { computed, type ReadonlySignal, signal } from '@preact/signals';
import {
  calibrationKey,
  type HeatAssessment,
  leavesSoaked,
  type PredictedRise,
  type PredictedSetup,
  type SetupWish,
  type ShownSetup,
} from '@soakbench/core/heat';
import type { Fault } from '@soakbench/core/measure';
import type { Build, Setup } from '@soakbench/core/records';
import { proxy, type Remote, wrap } from 'comlink';
import { faultsOf } from '../api/faults.js';
import type { Answered, Calibration, HeatJob, HeatWorker } from '../worker/heat-worker.js';
import { LatestWish } from './latest-wish.js';

export type DeskFace =
  | { readonly face: 'calibrating'; readonly share: number; readonly doing: string }
  | { readonly face: 'stopped' }
  | { readonly face: 'failed'; readonly faults: readonly Fault[] }
  | { readonly face: 'ready'; readonly calibration: Kept };

/** What is on show: the set-up as it was wished, what the model shows of it, and its intervals once they are there. */
export interface OnShow {
  readonly wish: SetupWish;
  readonly shown: ShownSetup;
}

export interface Doubts {
  readonly key: string;
  readonly rises: readonly PredictedRise[];
}

interface Hand {
  readonly worker: Worker;
  readonly heat: Remote<HeatWorker>;
}

function takeWorker(): Hand {
  const worker = new Worker(new URL('../worker/heat-worker.ts', import.meta.url), { type: 'module' });
  return { worker, heat: wrap<HeatWorker>(worker) };
}

/** Intervals are wished for once the hand has rested this long, ms. */
const rest_ms = 350;
/** How far a cell may still be off, K: no figure on the page has hundredths, and what is drawn while the hand moves is soon overtaken. */
const moving_K = 0.03;
const resting_K = 2e-3;
/** Calibrations of so many states of builds are remembered: undo and redo find theirs again. */
const mostKept = 4;
const kept = new Map<string, Kept>();

/** A calibration, and the set-ups as they were when it was made: one that nobody soaked may have been changed since. */
interface Kept extends Calibration {
  readonly setups: readonly Setup[];
}

/** What a prediction with intervals hangs on; what is seen from where does not. */
export function doubtKey({ setup, surroundings, ambient_C, use }: SetupWish): string {
  return JSON.stringify([setup.layers, surroundings ?? null, ambient_C, use]);
}

function layersKey({ id, layers }: Setup): string {
  return JSON.stringify([id, layers]);
}

function isAmong(setup: Setup, setups: readonly Setup[]): boolean {
  return setups.some((each) => layersKey(each) === layersKey(setup));
}

/** The heat model of one build on this page: calibrated once for each state of what it rests on, then asked at will. */
export class HeatDesk {
  readonly #face = signal<DeskFace>({ face: 'calibrating', share: 0, doing: 'reading the runs' });
  readonly #isUsed = signal(false);
  readonly #onShow = signal<OnShow | null>(null);
  readonly #doubts = signal<Doubts | null>(null);
  readonly #faults = signal<readonly Fault[]>([]);
  readonly #further = signal<ReadonlyMap<string, PredictedSetup>>(new Map());
  readonly #ghost = signal<OnShow | null>(null);
  readonly #wishedKey = signal('');
  readonly #isProvisional = computed(() => {
    const [key, onShow, doubts] = [this.#wishedKey.value, this.#onShow.value, this.#doubts.value];
    return doubts?.key !== key || onShow === null || doubtKey(onShow.wish) !== key;
  });
  #job: HeatJob | null = null;
  #key = '';
  #calibrator: Hand | null = null;
  #hands: readonly Hand[] = [];
  #shows: LatestWish<SetupWish, Answered<ShownSetup>> | null = null;
  #predicts: LatestWish<SetupWish, Answered<{ rises: readonly PredictedRise[] }>> | null = null;
  #wish: SetupWish | null = null;
  #baseline: Setup | null = null;
  #resting: ReturnType<typeof setTimeout> | undefined;
  #waiting: readonly Setup[] = [];
  #isPredicting = false;

  get face(): ReadonlySignal<DeskFace> {
    return this.#face;
  }
  /** False until a build was taken up that a model can be held to. */
  get isUsed(): ReadonlySignal<boolean> {
    return this.#isUsed;
  }
  /** The last that was shown; it stays while something newer is computed, and while the model is calibrated anew. */
  get onShow(): ReadonlySignal<OnShow | null> {
    return this.#onShow;
  }
  get doubts(): ReadonlySignal<Doubts | null> {
    return this.#doubts;
  }
  /** True while what is on show, or its intervals, are not yet those of the set-up that was wished last. */
  get isProvisional(): ReadonlySignal<boolean> {
    return this.#isProvisional;
  }
  /** What is wrong with the set-up that was wished last; empty where nothing is. */
  get faults(): ReadonlySignal<readonly Fault[]> {
    return this.#faults;
  }
  /** The baseline in the room, the use and the surroundings of what is on show; null until it is there. */
  get ghost(): ReadonlySignal<OnShow | null> {
    return this.#ghost;
  }

  /** Predictions of set-ups that came or changed after the calibration. */
  get further(): ReadonlySignal<ReadonlyMap<string, PredictedSetup>> {
    return this.#further;
  }

  /** What the model says of the build as it is now, with the set-ups that came or changed since it was calibrated. */
  assessmentOf(build: Build): HeatAssessment | null {
    const face = this.#face.value;
    if (face.face !== 'ready') return null;
    const { assessment, setups } = face.calibration;
    const stands = new Set(build.setups.filter((setup) => isAmong(setup, setups)).map(({ id }) => id));
    const further = build.setups.flatMap((setup) => this.#further.value.get(layersKey(setup)) ?? []);
    return {
      ...assessment,
      predictions: [
        ...assessment.predictions.filter(({ setup, measured }) => measured || stands.has(setup)),
        ...further.filter(({ rises }) => rises.length > 0),
      ],
      unpredicted: assessment.unpredicted.filter(({ setup }) => stands.has(setup)),
    };
  }

  /** Takes up a state of the build. What the model does not rest on changes nothing here. */
  follow(job: HeatJob): void {
    let key: string;
    try {
      key = calibrationKey(job.build, job.contests, job.corrections);
    } catch (error) {
      this.#fail(faultsOf(error));
      return;
    }
    this.#job = job;
    this.#isUsed.value = true;
    if (key === this.#key) return;
    this.#key = key;
    this.#drop();
    const known = kept.get(key);
    if (known !== undefined) this.#ready(known);
    else this.calibrate();
  }

  calibrate(): void {
    const [job, key] = [this.#job, this.#key];
    if (job === null) return;
    this.#calibrator?.worker.terminate();
    const hand = takeWorker();
    this.#calibrator = hand;
    this.#face.value = { face: 'calibrating', share: 0, doing: 'laying out the device' };
    const isCurrent = () => this.#calibrator === hand;
    const onProgress = (share: number, doing: string) => {
      if (isCurrent()) this.#face.value = { face: 'calibrating', share, doing };
    };
    hand.heat
      .calibrate(job, proxy(onProgress))
      .then((answer) => {
        if (!isCurrent()) return;
        if ('faults' in answer) return this.#fail(answer.faults);
        const made = { ...answer, setups: job.build.setups };
        kept.set(key, made);
        for (const old of [...kept.keys()].slice(0, Math.max(0, kept.size - mostKept))) kept.delete(old);
        this.#ready(made);
      })
      .catch((error) => isCurrent() && this.#fail(faultsOf(error)))
      .finally(() => {
        hand.worker.terminate();
        if (isCurrent()) this.#calibrator = null;
      });
  }

  /** Ends the calibration that runs. */
  stop(): void {
    this.#calibrator?.worker.terminate();
    this.#calibrator = null;
    this.#face.value = { face: 'stopped' };
  }

  /** Shows a set-up at once; its intervals follow when nothing newer is wished for a moment. */
  show(wish: SetupWish, baseline: Setup | null = null): void {
    this.#wish = wish;
    this.#baseline = baseline;
    this.#wishedKey.value = doubtKey(wish);
    this.#shows?.ask({ ...wish, within_K: moving_K });
    clearTimeout(this.#resting);
    this.#predicts?.forget();
    this.#resting = setTimeout(() => {
      this.#shows?.ask({ ...wish, within_K: resting_K });
      this.#predicts?.ask(wish);
    }, rest_ms);
  }

  /** Predicts set-ups that the calibration did not know, one after the other. */
  predictFurther(setups: readonly Setup[]): void {
    this.#waiting = setups;
    void this.#predictNext();
  }

  close(): void {
    this.#key = '';
    this.#drop();
  }

  #ready(calibration: Kept): void {
    const job = this.#job;
    if (job === null) return;
    const [shower, predicter] = [takeWorker(), takeWorker()];
    this.#hands = [shower, predicter];
    const opening = this.#hands.map(({ heat }) => heat.open(job, calibration.calibrated));
    const [showing, predicting] = opening as [(typeof opening)[0], (typeof opening)[0]];
    this.#shows = new LatestWish(
      async (wish) => {
        const open = await showing;
        return 'faults' in open ? open : shower.heat.show(wish);
      },
      (wish, answer) => this.#take(wish, answer),
      (error) => {
        this.#faults.value = faultsOf(error);
      },
    );
    this.#predicts = new LatestWish(
      async (wish) => {
        const open = await predicting;
        if ('faults' in open) return open;
        await this.#showGhost(predicter, wish);
        if (this.#doubts.value?.key === doubtKey(wish)) return { rises: this.#doubts.value.rises };
        return predicter.heat.predict(wish);
      },
      (wish, answer) => {
        if ('rises' in answer) this.#doubts.value = { key: doubtKey(wish), rises: answer.rises };
      },
      () => undefined,
    );
    this.#face.value = { face: 'ready', calibration };
    void this.#predictNext();
    if (this.#wish !== null) this.show(this.#wish, this.#baseline);
  }

  /** The baseline comes first: it is quick, and every difference on the page waits for it. */
  async #showGhost({ heat }: Hand, wish: SetupWish): Promise<void> {
    const setup = this.#baseline;
    if (setup === null) return;
    const ghost: SetupWish = { ...wish, setup };
    if (this.#ghost.value !== null && doubtKey(this.#ghost.value.wish) === doubtKey(ghost)) return;
    const answer = await heat.show(ghost);
    if (!('faults' in answer)) this.#ghost.value = { wish: ghost, shown: answer };
  }

  #take(wish: SetupWish, answer: Answered<ShownSetup>): void {
    if ('faults' in answer) {
      this.#faults.value = answer.faults;
      return;
    }
    this.#faults.value = [];
    this.#onShow.value = { wish, shown: answer };
  }

  async #predictNext(): Promise<void> {
    const [hand, face] = [this.#hands[1], this.#face.value];
    if (hand === undefined || face.face !== 'ready' || this.#isPredicting) return;
    const setup = this.#waiting.find(
      (each) => !isAmong(each, face.calibration.setups) && !this.#further.value.has(layersKey(each)),
    );
    if (setup === undefined) return;
    this.#isPredicting = true;
    const answer = await hand.heat.predict({
      setup,
      // The room of the runs, as for all the others in the table.
      ambient_C: null,
      use: { charging: false, load_W: null },
      plane: 'pack',
    });
    this.#isPredicting = false;
    if (hand !== this.#hands[1]) return;
    const prediction: PredictedSetup = {
      setup: setup.id,
      charging: false,
      measured: false,
      rises: 'rises' in answer ? answer.rises : [],
      beyond: leavesSoaked(
        this.#job?.build ?? { setups: [] },
        setup,
        new Set(
          face.calibration.assessment.predictions.flatMap((each) => (each.measured ? [each.setup] : [])),
        ),
      ),
    };
    this.#further.value = new Map([...this.#further.value, [layersKey(setup), prediction]]);
    void this.#predictNext();
  }

  #fail(faults: readonly Fault[]): void {
    this.#face.value = { face: 'failed', faults };
  }

  #drop(): void {
    clearTimeout(this.#resting);
    this.#calibrator?.worker.terminate();
    this.#calibrator = null;
    for (const { worker } of this.#hands) worker.terminate();
    this.#hands = [];
    this.#shows?.close();
    this.#predicts?.close();
    this.#shows = null;
    this.#predicts = null;
    this.#further.value = new Map();
    this.#doubts.value = null;
    this.#ghost.value = null;
    this.#isPredicting = false;
  }
}
