import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import { openCourses } from '@/lib/domain/development/instar-length'
import { lastMoultOn, moultsOf } from '@/lib/domain/individual/record'
import { ROUND_SEEN_WITHIN_DAYS, seenSince } from '@/lib/domain/individual/seen-since'
import { type StateWords, stateWords } from '@/lib/domain/individual/state-words'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { arrangeShelves, type Shelf, type WalkedCup, type WalkedGroup } from '@/lib/domain/moult-round/shelf'
import { quarantineLast, sayQuarantine } from '@/lib/domain/zone/quarantine'
import { listClutches, zoneOfClutch } from '@/lib/features/clutch/data'
import { type ForecastGround, loadForecastGround } from '@/lib/features/egg-case/data'
import { getBriefOutlook, type IndividualRow, listIndividuals } from '@/lib/features/individual/data'
import { listLookDays } from '@/lib/features/look/data'
import { listMoultRounds, type MoultRoundRow } from '@/lib/features/moult/data'
import { listZones } from '@/lib/features/zone/data'
import { loadPage } from '@/lib/platform/page'
import type { Workspace } from '@/lib/platform/workspace'

export type RoundCup = WalkedCup & {
  label: string
  scientificName: string
  stage: string
  sex: IndividualRow['sex']
  /** What there is to know before the cup is lifted; null where it is quiet. */
  words: StateWords | null
  lastSeenOn: PlainDate | null
  /** Since when a skin found today may have lain there. */
  seenFrom: PlainDate | null
  /** Its next moult may be the last one. */
  mayBeFinal: boolean
}
export type RoundGroup = WalkedGroup & { label: string; scientificName: string; together: number }
export type RoundShelfView = Shelf<RoundCup, RoundGroup> & { zoneName: string }

export type MoultRoundPage = {
  workspaceId: string
  personId: string
  today: PlainDate
  shelves: RoundShelfView[]
  rounds: MoultRoundRow[]
}

const ANIMAL_LIMIT = 2000
const CLUTCH_LIMIT = 300
const ROUNDS_SHOWN = 8

/** Every cup with a nymph and every group, in walking order; adults no longer moult and are passed over. */
export function loadMoultRoundPage(slug: string): Promise<MoultRoundPage> {
  return loadPage({ slug, permission: 'individual:write' }, async ({ tx, workspace, scope }) => {
    const { workspaceId, today } = workspace
    const filter = { state: 'single', adult: false } as const
    const animals = await listIndividuals(tx, workspaceId, { filter, limit: ANIMAL_LIMIT })
    const ground = await loadForecastGround(tx, workspace, { animals })
    const nymphs = animals.filter(({ baselineOn }) => baselineOn <= today)
    const clutches = await listClutches(tx, workspaceId, { isTogether: true, limit: CLUTCH_LIMIT })
    const zones = quarantineLast(await listZones(tx, workspaceId), today)
    const looks = await listLookDays(tx, workspaceId, {
      individualIds: nymphs.map(({ id }) => id),
      since: addDays(today, -ROUND_SEEN_WITHIN_DAYS),
    })
    const nameOf = (speciesId: string) => ground.species.get(speciesId)?.scientificName ?? ''
    const zoneNames = new Map(
      zones.map(({ id, name, quarantineUntil }) => {
        const quarantine = sayQuarantine(quarantineUntil, today)
        return [id, quarantine ? `${name} (${quarantine})` : name]
      }),
    )
    const cups = nymphs.map((animal) =>
      presentCup(animal, { workspace, ground, looks: looks.get(animal.id) ?? [] }),
    )
    const groups = clutches.map((row) => ({
      id: row.id,
      zoneId: zoneOfClutch(row),
      label: row.label,
      scientificName: nameOf(row.speciesId),
      together: row.headCount.together,
    }))
    const shelves = arrangeShelves<RoundCup, RoundGroup>(
      { cups, groups },
      zones.map(({ id }) => id),
    )
    return {
      workspaceId,
      personId: scope.personId ?? '',
      today,
      shelves: shelves.map((shelf) => ({
        ...shelf,
        zoneName: zoneNames.get(shelf.zoneId ?? '') ?? 'In no zone',
      })),
      rounds: await listMoultRounds(tx, workspaceId, ROUNDS_SHOWN),
    }
  })
}

type Presenting = { workspace: Workspace; ground: ForecastGround; looks: readonly PlainDate[] }

function presentCup(animal: IndividualRow, { workspace, ground, looks }: Presenting): RoundCup {
  const { today, zones } = ground
  const species = ground.species.get(animal.speciesId)
  const profile = species?.profile
  const naming = instarNamingOf(workspace)
  const learned = species?.learned ?? null
  const outlook = profile && getBriefOutlook(animal, { profile, naming, zones, today, learned })
  const stay = animal.stays.findLast(({ until }) => until === null)
  const moults = moultsOf(animal)
  return {
    id: animal.id,
    // On a tray nobody tells them apart: any of its cups stands for one that moulted.
    label: animal.trayLabel ?? animal.label,
    zoneId: stay?.zoneId ?? null,
    kindName: stay?.kindName ?? 'Other containers',
    containerId: stay?.containerId ?? animal.id,
    scientificName: species?.scientificName ?? '',
    stage: outlook?.stage ?? '',
    sex: animal.sex,
    words: outlook && outlook.state !== 'quiet' ? briefly(stateWords(outlook, today)) : null,
    lastSeenOn: looks.at(-1) ?? null,
    seenFrom: seenSince(today, {
      lookDays: looks,
      lastMoultOn: lastMoultOn(animal) ?? animal.hatchedOn,
      withinDays: ROUND_SEEN_WITHIN_DAYS,
    }),
    mayBeFinal: profile
      ? openCourses(profile, { sex: animal.sex, moults }).some(
          ({ totalMoults }) => totalMoults === moults + 1,
        )
      : false,
  }
}

/** On a tile there is room for when, not for until when: "moult any day". */
function briefly(words: StateWords | null): StateWords | null {
  return words && { ...words, word: words.word.replace(/ until .*/, '').replace(/^moult overdue: /, '') }
}
