import { learnDevelopment } from '@/lib/domain/development/learning'
import { seededStream } from '@/lib/domain/random/seeded'
import { printTable } from '../support/print-table'
import { type Figures, figuresOf } from '../support/recovery-figures'
import { answersInRooms, roomOf } from '../support/recovery-rooms'
import { FULL_KNOWLEDGE, LEARNED, PROFILE_ONLY, type Variant } from '../support/recovery-run'
import { dayOfMoult, historiesOn, recordOn } from '../support/simulated-room'

/**
 * Are known parameters recovered, and do the windows hold? Rooms shifted by +20 %, −17 % and 0 against the
 * profile, judged after 25, 100 and 400 recorded moults against full knowledge of all parameters and against
 * the profile alone; then what each part of the model is worth. Several master seeds, none of them tuned on.
 *
 * BENCH_ROOMS and BENCH_SEEDS make it shorter or longer.
 */
const ROOMS = Number(process.env.BENCH_ROOMS ?? 60)
const SEEDS = (process.env.BENCH_SEEDS ?? 'first,second,third').split(',')
const COUNTS = [25, 100, 400]
const QUESTIONS = 40

/** What the figures have to reach after 25, 100 and 400 moults. */
const FLOORS: Record<string, string[]> = {
  'dates inside 10–90 %': ['75–85', '77–83', '77–83'],
  'whole-date windows that held': ['–', '–', '–'],
  'median error, days': ['–', '–', '–'],
  'error / full knowledge': ['≤ 1.35', '≤ 1.16', '≤ 1.08'],
  '… clutches with 5 own moults or more': ['≤ 1.08', '≤ 1.08', '≤ 1.08'],
  '… clutches without any': ['≤ 1.40', '≤ 1.40', '≤ 1.40'],
  'share of the attainable gain': ['≥ 0.70', '≥ 0.85', '≥ 0.90'],
  'error / profile where it is right': ['≤ 1.00', '≤ 1.00', '≤ 1.00'],
  'CRPS / full knowledge': ['–', '≤ 1.10', '–'],
}

function cellsOf(figures: Figures): string[] {
  const share = (value: number) => `${(100 * value).toFixed(1)} %`
  return [
    share(figures.pitShare),
    share(figures.windowShare),
    figures.medianErrorDays.toFixed(2),
    figures.errorRatio.toFixed(3),
    figures.ownRatio.toFixed(3),
    figures.newRatio.toFixed(3),
    figures.gain.toFixed(3),
    figures.rightRatio.toFixed(3),
    figures.crpsRatio.toFixed(3),
  ]
}

const ABLATIONS: Variant[] = [
  LEARNED,
  { name: 'without running instars', changes: () => ({ usesRunning: false }) },
  { name: 'without clutch effect', changes: () => ({ clutch: () => ({ mean: 0, sd: 1e-4 }) }) },
  {
    name: 'without per-instar bias',
    changes: () => ({ byInstar: Array.from({ length: 12 }, () => ({ mean: 0, sd: 1e-4 })) }),
  },
  {
    name: 'without parameter spread',
    changesParameters: (parameters) => ({
      ...parameters,
      covariance: parameters.covariance.map((row, i) =>
        row.map((cell, j) => (i === 2 && j === 2 ? cell : 0)),
      ),
    }),
  },
  { name: 'without robustness', changes: () => ({ wrongShare: 0 }) },
  {
    name: 'without late intervals',
    changesRecord: (record) => ({
      ...record,
      starts: record.starts.map((start) => ({ ...start, earliestOn: start.latestOn })),
    }),
  },
  { name: 'without future temperature', temperatureSdC: 0 },
]

export async function run(): Promise<void> {
  const pooled = COUNTS.map(
    () => ({ learned: [], known: [], profile: [] }) as Parameters<typeof figuresOf>[0],
  )
  for (const seed of SEEDS) {
    const columns = COUNTS.map((count, index) => {
      const answers = answersInRooms({ seed, rooms: ROOMS, count, questions: QUESTIONS }, [
        LEARNED,
        FULL_KNOWLEDGE,
        PROFILE_ONLY,
      ])
      const found = {
        learned: answers.get(LEARNED.name)!,
        known: answers.get(FULL_KNOWLEDGE.name)!,
        profile: answers.get(PROFILE_ONLY.name)!,
      }
      const all = pooled[index]!
      pooled[index] = {
        learned: [...all.learned, ...found.learned],
        known: [...all.known, ...found.known],
        profile: [...all.profile, ...found.profile],
      }
      return figuresOf(found)
    })
    printFigures(`Recovery, seed "${seed}", ${ROOMS} rooms`, columns)
  }
  printFigures(`Recovery, all seeds, ${ROOMS * SEEDS.length} rooms`, pooled.map(figuresOf))
  printFigures(`With every nymph on record, ${ROOMS / 2} rooms`, COUNTS.map(figuresOfWholeClutches))
  printAblations()
  printIndependence()
}

function figuresOfWholeClutches(count: number): Figures {
  const asked = { seed: 'whole', rooms: ROOMS / 2, count, questions: QUESTIONS, isWholeClutch: true }
  const answers = answersInRooms(asked, [LEARNED, FULL_KNOWLEDGE, PROFILE_ONLY])
  return figuresOf({
    learned: answers.get(LEARNED.name)!,
    known: answers.get(FULL_KNOWLEDGE.name)!,
    profile: answers.get(PROFILE_ONLY.name)!,
  })
}

function printFigures(heading: string, columns: readonly Figures[]): void {
  const cells = columns.map(cellsOf)
  printTable(
    `${heading}; ${columns.map(({ forecasts }) => forecasts).join(' / ')} forecasts`,
    ['after recorded moults', ...COUNTS.flatMap((count) => [String(count), 'floor'])],
    Object.entries(FLOORS).map(([name, floors], row) => [
      name,
      ...floors.flatMap((floor, column) => [cells[column]![row]!, floor]),
    ]),
  )
}

/** Each part taken out, on the same questions; error and CRPS against full knowledge. */
function printAblations(): void {
  const rows = new Map<string, string[]>(ABLATIONS.map(({ name }) => [name, []]))
  for (const count of COUNTS) {
    const answers = answersInRooms(
      { seed: 'parts', rooms: Math.ceil(ROOMS / 2), count, questions: QUESTIONS },
      [...ABLATIONS, FULL_KNOWLEDGE, PROFILE_ONLY],
    )
    for (const { name } of ABLATIONS) {
      const { errorRatio, crpsRatio, pitShare } = figuresOf({
        learned: answers.get(name)!,
        known: answers.get(FULL_KNOWLEDGE.name)!,
        profile: answers.get(PROFILE_ONLY.name)!,
      })
      rows.get(name)!.push(errorRatio.toFixed(3), crpsRatio.toFixed(3), `${(100 * pitShare).toFixed(1)} %`)
    }
  }
  printTable(
    `What each part is worth, ${Math.ceil(ROOMS / 2)} rooms: error and CRPS against full knowledge, dates inside 10–90 %`,
    ['', ...COUNTS.flatMap((count) => [`error ${count}`, `CRPS ${count}`, `inside ${count}`])],
    [...rows].map(([name, cells]) => [name, ...cells]),
  )
}

/** The same records in other orders and under other clocks have to give the same fit, to the last digit. */
function printIndependence(): void {
  const room = roomOf('order', 0)
  const today = dayOfMoult(room, 400) ?? '2026-12-01'
  const histories = historiesOn(room, today)
  const records = room.animals.flatMap((animal) => recordOn(animal, { today, histories }) ?? [])
  const { profile } = room.plan
  const fit = JSON.stringify(learnDevelopment(profile, records))
  const zone = process.env.TZ
  const rows = ['Pacific/Kiritimati', 'America/St_Johns', 'UTC'].map((timeZone) => {
    process.env.TZ = timeZone
    const isSame = JSON.stringify(learnDevelopment(profile, seededStream(timeZone).shuffle(records))) === fit
    return [`rows shuffled by seed "${timeZone}", clock in ${timeZone}`, isSame ? 'same' : 'DIFFERENT']
  })
  process.env.TZ = zone
  printTable('Independence of row order, seed and time zone', ['', 'fit'], rows)
}
