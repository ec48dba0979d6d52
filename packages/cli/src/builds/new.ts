import { basename, resolve } from 'node:path';
import { BadInputError, type Fault } from '@soakbench/core/measure';
import {
  type Build,
  checkBuild,
  idFrom,
  newBuild,
  type Probe,
  probePlaces,
  type Setup,
} from '@soakbench/core/records';
import { writeFolder } from '@soakbench/store';
import { defineAction, type ExitCode, jsonOption } from '../parts/action.js';
import { answerPage, say, sayJson } from '../parts/output.js';
import { wrap } from '../parts/page.js';
import { readSetup } from '../parts/read-layers.js';
import { caution } from '../parts/words.js';

export const beginBuild = defineAction({
  words: 'builds new',
  about:
    'Begins a build: a folder with build.json and an empty logs/, ready for runs import. What is not said here (device, packs, limits of the makers, the warmest day) is entered in build.json, or on the pages. The folder appears complete or not at all, and must be empty or not there.',
  operands: { FOLDER: { about: 'the folder to write' } },
  options: {
    name: {
      type: 'string',
      value: 'NAME',
      about: 'what the build is called; the name of the folder without it',
    },
    probe: {
      type: 'string',
      multiple: true,
      value: 'ID=PLACE',
      about:
        'a probe by the name its column has in the log, and where it sits: zone, cell, ambient or shell; cell:2 for the second cell',
    },
    setup: {
      type: 'string',
      multiple: true,
      value: 'NAME: LAYER ...',
      about:
        'a set-up and its layers from the zones to the pack, each as MATERIAL=MM, as in heat predict --layer; nothing behind the name for bare. The first is the one the others are held against',
    },
    json: jsonOption,
  },
  examples: [
    {
      command:
        "npx soakbench builds new my-recorder --name 'My recorder' --probe z1=zone --probe c1=cell --probe a=ambient --setup bare --setup 'plate: polyimide=0.06 aluminium=0.5 acrylic-tape=0.04'",
      shows: 'an invented recorder with three probes and two set-ups, before its first run',
    },
  ],
  run({ FOLDER }, { name, probe, setup, json }): ExitCode {
    const called = name ?? basename(resolve(FOLDER));
    const faults: Fault[] = [];
    const probes = readProbes(probe, faults);
    const setups = readSetups(setup, faults);
    if (faults.length > 0) throw new BadInputError(faults);
    const [first] = setups;
    const build: Build = checkBuild(
      {
        ...newBuild(idFrom(called), called),
        probes,
        setups,
        ...(first === undefined ? {} : { baseline: first.id }),
      },
      FOLDER,
    );
    writeFolder(FOLDER, build, new Map());
    if (json) sayJson({ id: build.id, name: build.name, folder: FOLDER, probes, setups });
    else say(tellBegun(FOLDER, build));
    return 0;
  },
});

function readProbes(typed: readonly string[], faults: Fault[]): Probe[] {
  const probes: Probe[] = [];
  for (const words of typed) {
    const [, name = '', place = '', cell] = /^(.+?)=([a-z]+)(?::(\d+))?$/.exec(words.trim()) ?? [];
    const where = `--probe ${words}`;
    const known = probePlaces.find((each) => each === place);
    if (known === undefined || (cell !== undefined && known !== 'cell')) {
      faults.push({
        where,
        what: 'This does not say which probe sits where.',
        remedy: `Write ID=PLACE with one of ${probePlaces.join(', ')}, as in z1=zone or c2=cell:2`,
      });
    } else if (probes.some((each) => each.name === name)) {
      faults.push({ where, what: `There are two probes "${name}".`, remedy: 'Give each a name of its own.' });
    } else {
      probes.push({
        id: idFrom(
          name,
          probes.map(({ id }) => id),
        ),
        name,
        place: known,
        ...(cell === undefined ? {} : { cell: Number(cell) }),
      });
    }
  }
  return probes;
}

function readSetups(typed: readonly string[], faults: Fault[]): Setup[] {
  const setups: Setup[] = [];
  for (const words of typed) {
    const [name = '', layers = ''] = words.split(/:(.*)/s).map((part) => part.trim());
    const where = `--setup ${words}`;
    if (name === '') {
      faults.push({ where, what: 'The set-up has no name.', remedy: 'Write NAME, or NAME: LAYER ...' });
    } else if (setups.some((each) => each.name === name)) {
      faults.push({
        where,
        what: `There are two set-ups "${name}".`,
        remedy: 'Give each a name of its own.',
      });
    } else {
      try {
        const read = readSetup(
          { setups: [] },
          undefined,
          layers.split(/\s+/).filter((layer) => layer !== ''),
          (layer) => `--setup ${name}: ${layer}`,
        );
        setups.push({
          ...read,
          id: idFrom(
            name,
            setups.map(({ id }) => id),
          ),
          name,
        });
      } catch (error) {
        if (!(error instanceof BadInputError)) throw error;
        faults.push(...error.faults);
      }
    }
  }
  return setups;
}

/** What was written, and what comes next at the bench. */
function tellBegun(folder: string, build: Build): string[] {
  const page = answerPage();
  const lacking = [
    ...(build.probes.length === 0 ? ['probes'] : []),
    ...(build.setups.length === 0 ? ['set-ups'] : []),
    'device and packs',
    'the limits of the pack’s own sheet (those written are common practice, no source)',
    'the design ambient',
  ];
  return [
    ...wrap(page, `Wrote ${folder}: ${build.name}, no run yet.`),
    '',
    ...wrap(page, `Still to enter, in ${folder}/build.json: ${lacking.join('; ')}.`),
    ...wrap(page, 'Or on the pages: npx soakbench builds import FOLDER, then npx soakbench serve.'),
    '',
    ...wrap(
      page,
      'Next: check the probes in ice water and boiling water, soak each set-up twice or more, and take each log in with npx soakbench runs import FOLDER LOG.',
    ),
    '',
    ...caution(page),
  ];
}
