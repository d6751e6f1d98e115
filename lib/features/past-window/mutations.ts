import { createHash } from 'node:crypto'
import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { givenWindows, type MonthOfWindows } from '@/lib/domain/past-window/given'
import {
  type DatedEvidence,
  evidenceAsOf,
  fittedOn,
  listPastMonths,
  type PastMonth,
  withEntries,
} from '@/lib/domain/past-window/month'
import { type ZonesById, zonesAsOf } from '@/lib/domain/zone/history'
import { listEvidence } from '@/lib/features/growth-fit/data'
import {
  listLateEntries,
  listMonthHashes,
  listProfilesByDay,
  listSeenByMonth,
} from '@/lib/features/past-window/data'
import { requireSpecies } from '@/lib/features/species/data'
import { loadZonesById } from '@/lib/features/zone/data'
import type { Tx } from '@/lib/platform/db'
import { runInPieces } from '@/lib/platform/in-pieces'
import { enqueuePastWindows } from '@/lib/platform/jobs'
import { fromPlainDate } from '@/lib/platform/plain-date'
import type { Workspace, WorkspaceId } from '@/lib/platform/workspace'

/** Two years are as much as says anything about how it is now. */
const MOST_MONTHS = 24
/** In one transaction; the rest is asked for anew, so that none of them is long. */
const MONTHS_AT_ONCE = 6
/** Counted up where windows are worked out differently, so that old ones are worked out anew. */
const SCHEME = 2

type OpenMonth = PastMonth & { evidenceHash: string; profile: CareProfile }

/**
 * Works out anew the windows of those past months whose records have changed since, the oldest first. A month hangs
 * on nothing that came after it, so an entry of today touches this month alone.
 */
export async function updatePastWindows(
  tx: Tx,
  workspace: Workspace,
  { speciesId, atOnce = MONTHS_AT_ONCE }: { speciesId: string; atOnce?: number },
): Promise<{ worked: number; left: number }> {
  const { workspaceId, today } = workspace
  const { id, profile } = await requireSpecies(tx, workspaceId, speciesId)
  if (!profile) return { worked: 0, left: 0 }
  const zones = await loadZonesById(tx, workspaceId)
  const evidence = await loadDatedEvidence(tx, workspace, id)
  const months = listPastMonths(evidence, today, MOST_MONTHS)
  const profiles = await listProfilesByDay(tx, workspaceId, { speciesId: id, days: months.map(fittedOn) })
  const known = await listMonthHashes(tx, workspaceId, id)
  const open = months
    .map((month, index) => {
      const then = profiles[index] ?? profile
      return {
        ...month,
        profile: then,
        evidenceHash: hashOf({ month, today, profile: then, evidence, zones }),
      }
    })
    .filter(({ from, evidenceHash }) => known.get(from) !== evidenceHash)
  const now = open.slice(0, atOnce)
  for (const month of now) {
    const given = await runInPieces(givenWindows({ profile: month.profile, evidence, zones }, month))
    await storeMonth(tx, workspaceId, { speciesId: id, month, given })
  }
  const left = open.length - now.length
  if (left > 0) await enqueuePastWindows(tx, id)
  return { worked: now.length, left }
}

async function loadDatedEvidence(tx: Tx, workspace: Workspace, speciesId: string): Promise<DatedEvidence> {
  const { workspaceId, today } = workspace
  const kept = (await listEvidence(tx, workspaceId, { speciesIds: [speciesId], asOf: today })).get(speciesId)
  const seen = await listSeenByMonth(tx, workspaceId, speciesId)
  const late = await listLateEntries(tx, workspace, speciesId)
  const { animals = [], clutches = [], eggCases = [] } = kept ?? {}
  const dated = animals.map((animal) => ({ ...animal, seenOn: seen.get(animal.id) ?? [] }))
  return withEntries({ clutches, eggCases, animals: dated }, late)
}

type Hashed = {
  month: PastMonth
  today: PlainDate
  profile: CareProfile
  evidence: DatedEvidence
  zones: ZonesById
}

/**
 * Everything that the windows of a month hang on: looks only as far as the fit knew them, and temperatures of days
 * that are over, as those of today change every few minutes.
 */
function hashOf({ month, today, profile, evidence, zones }: Hashed): string {
  const [lastDay, fitOn] = [addDays(month.until, -1), fittedOn(month)]
  const hash = createHash('sha256')
  const add = (piece: unknown) => hash.update(JSON.stringify(piece)).update('\n')
  const known = evidenceAsOf(evidence, lastDay)
  add([SCHEME, profile.growth, profile.hatch, profile.handling.sexing])
  for (const [id, { setPoints, days = [] }] of zonesAsOf(zones, lastDay))
    add([id, setPoints, days.filter(({ on }) => on < today)])
  for (const animal of known.animals)
    add({ ...animal, lastSeenOn: null, seenOn: animal.seenOn.filter((on) => on <= fitOn) })
  for (const piece of [...known.clutches, ...known.eggCases]) add(piece)
  return hash.digest('hex')
}

type NewMonth = { speciesId: string; month: OpenMonth; given: MonthOfWindows }

async function storeMonth(tx: Tx, workspaceId: WorkspaceId, { speciesId, month, given }: NewMonth) {
  const monthOn = fromPlainDate(month.from)
  const content = {
    evidenceHash: month.evidenceHash,
    instarsSeen: given.instarsSeen,
    windows: JSON.parse(JSON.stringify(given.windows)),
  }
  await tx.pastWindowMonth.upsert({
    where: { workspaceId_speciesId_monthOn: { workspaceId, speciesId, monthOn } },
    create: { workspaceId, speciesId, monthOn, ...content },
    update: content,
  })
}
