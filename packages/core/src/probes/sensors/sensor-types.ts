import type { Result } from '../../measure/index.js';
import type { SensorFacts } from '../../records/index.js';
import { ntcBeta } from './ntc-beta.js';
import { ntcCoefficients } from './ntc-coefficients.js';
import { ntcTable } from './ntc-table.js';
import { platinum } from './platinum.js';
import type { FalseFacts, Sensor, SensorType } from './sensor.js';
import { thermocouple } from './thermocouple.js';

type TypesByKind = {
  readonly [Kind in SensorFacts['kind']]: SensorType<Extract<SensorFacts, { kind: Kind }>>;
};

/** Every kind of sensor a record may state, in the order they are offered. The type holds that none is left out. */
export const sensorTypes: TypesByKind = {
  thermocouple,
  platinum,
  'ntc-beta': ntcBeta,
  'ntc-coefficients': ntcCoefficients,
  'ntc-table': ntcTable,
};

/** The sensor that a probe's facts describe, or what is wrong with them. */
export function makeSensor(facts: SensorFacts): Result<Sensor, FalseFacts> {
  const type = sensorTypes[facts.kind] as SensorType<SensorFacts>;
  return type.make(facts);
}
