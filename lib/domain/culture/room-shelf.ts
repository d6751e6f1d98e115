import type { PlainDate } from '../calendar/date'
import type { RoomLine } from '../prey/kept-line'
import type { CultureSupply } from '../prey/line'
import { developmentRate } from './emergence'
import { type JarLaw, lawOfJar, type ZoneLaw } from './jar-law'
import type { LearnedLine } from './learning'
import type { Suspicion } from './mites'
import type { CultureLaw } from './running'
import {
  type JarOutlook,
  type JarRecord,
  lawOfLine,
  learnRoomLine,
  outlookOfJar,
  suspicionsOn,
} from './shelf'

/** Lines, jars and temperatures of a room as they were collected. */
export type ShelfGround<Row extends JarRecord> = {
  lines: readonly RoomLine[]
  /** Those that stand, and the finished ones that are learned from. */
  jars: readonly Row[]
  temperatureC: ReadonlyMap<string, number>
  today: PlainDate
  /** How far ahead to look. */
  days: number
  /** When flies of a line were last counted, by line. */
  countedOn?: ReadonlyMap<string, PlainDate>
}

export type LearnedHere = { line: string; zoneId: string; learned: LearnedLine; law: CultureLaw }
export type StandingJar<Row extends JarRecord> = JarLaw & { jar: Row; outlook: JarOutlook }

export type RoomShelf<Row extends JarRecord> = {
  standing: StandingJar<Row>[]
  learned: LearnedHere[]
  suspicions: Map<string, Suspicion>
}

/** Where nobody said how warm a zone is, cultures are taken to stand as the trade keeps them. */
export const USUAL_C = 24.5

/** Every standing jar with what is expected of it, and what each line does in each room. O(jars × days). */
export function workOutShelf<Row extends JarRecord>(ground: ShelfGround<Row>): RoomShelf<Row> {
  const { jars, lines, today, days } = ground
  const suspicions = suspicionsOn(jars, today)
  const learned = learnRooms(ground)
  const lineOf = new Map(lines.map(({ line }) => [line.id, line]))
  const lawOf = openJarLaws(ground, learned)
  const standing = jars.flatMap((jar): StandingJar<Row>[] => {
    const line = lineOf.get(jar.line)
    if (jar.endedOn !== null && jar.endedOn <= today) return []
    const own = line && lawOf(line, jar)
    if (!own) return []
    const { supply } = line
    const suspicion = suspicions.get(jar.id) ?? null
    const countedOn = ground.countedOn?.get(jar.line) ?? null
    const dailyDeathRate = supply.dailyDeathRate.value
    const outlook = outlookOfJar(jar, { ...own, suspicion, today, days, countedOn, dailyDeathRate })
    return [{ jar, ...own, outlook }]
  })
  return { standing, learned, suspicions }
}

function learnRooms<Row extends JarRecord>({ jars, lines, temperatureC, today }: ShelfGround<Row>) {
  const groups = new Map<string, Row[]>()
  for (const jar of jars) {
    const key = `${jar.line}|${jar.zoneId}`
    groups.set(key, [...(groups.get(key) ?? []), jar])
  }
  return [...groups].flatMap(([key, own]): LearnedHere[] => {
    const [slug = '', zoneId = ''] = key.split('|')
    const line = lines.find((each) => each.line.id === slug)?.line
    const room = { temperatureC: temperatureC.get(zoneId) ?? USUAL_C, today }
    const learned = line ? learnRoomLine(line, own, room) : null
    const law = line && learned ? lawOfLine(line, { ...room, learned }) : null
    return learned && law ? [{ line: slug, zoneId, learned, law }] : []
  })
}

type Place = { line: RoomLine['line']; zoneId: string; learned: readonly LearnedHere[] }

/** The law of each jar by where it stood; that of a line in a zone is worked out once. */
function openJarLaws(ground: ShelfGround<JarRecord>, learned: readonly LearnedHere[]) {
  const laws = new Map<string, ZoneLaw>()
  const inZone = (line: RoomLine['line'], supply: CultureSupply, zoneId: string): ZoneLaw => {
    const key = `${line.id}|${zoneId}`
    const known = laws.get(key)
    if (known) return known
    const law = lawIn(ground, { line, zoneId, learned }) ?? NO_FLIES
    const delay = learned.find((each) => each.line === line.id && each.zoneId === zoneId)?.learned.delayFactor
    const rate = developmentRate(supply.curve.value, ground.temperatureC.get(zoneId) ?? USUAL_C)
    const found = { law, rate: rate / (delay ?? 1) }
    laws.set(key, found)
    return found
  }
  return (line: RoomLine['line'], jar: JarRecord): JarLaw | null => {
    const { supply } = line
    if (supply.kind !== 'culture') return null
    return lawOfJar(jar, {
      lawIn: (zoneId) => inZone(line, supply, zoneId),
      discardAfterDays: supply.discardAfterDays.value,
      usualStarters: supply.starters.value,
    })
  }
}

const NO_FLIES: CultureLaw = { curve: [], mean: 0, cv: 0, crashChance: 0, crashShare: 0, delayCv: 0 }

function lawIn(
  { temperatureC }: Pick<ShelfGround<JarRecord>, 'temperatureC'>,
  { line, zoneId, learned }: Place,
): CultureLaw | null {
  const here = learned.find((each) => each.line === line.id && each.zoneId === zoneId)
  return here?.law ?? lawOfLine(line, { temperatureC: temperatureC.get(zoneId) ?? USUAL_C })
}

/** What a line does where most of its jars of late stood: what new ones are planned with. */
export function mainRoomOf<Row extends JarRecord>(
  line: string,
  { jars, temperatureC }: Pick<ShelfGround<Row>, 'jars' | 'temperatureC'>,
  learned: readonly LearnedHere[],
): { zoneId: string | null; temperatureC: number; learned: LearnedLine | undefined } {
  const own = jars.filter((jar) => jar.line === line)
  const standing = own.filter(({ endedOn }) => endedOn === null)
  const counted = new Map<string, number>()
  for (const { zoneId } of standing.length > 0 ? standing : own)
    counted.set(zoneId, (counted.get(zoneId) ?? 0) + 1)
  const zoneId = [...counted].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null
  return {
    zoneId,
    temperatureC: (zoneId && temperatureC.get(zoneId)) || USUAL_C,
    learned: learned.find((each) => each.line === line && each.zoneId === zoneId)?.learned,
  }
}

/** The curve of a line in each room in which its jars stood. */
export function curveOf(
  line: RoomLine['line'],
  { learned, temperatureC }: { learned: readonly LearnedHere[]; temperatureC: ReadonlyMap<string, number> },
): { zoneId: string; temperatureC: number; shares: number[]; learned: LearnedLine | null }[] {
  return learned
    .filter((each) => each.line === line.id)
    .map(({ zoneId, law, learned: here }) => ({
      zoneId,
      temperatureC: temperatureC.get(zoneId) ?? USUAL_C,
      shares: law.curve.map((share) => Math.round(share * 1e6) / 1e6),
      learned: here,
    }))
}
