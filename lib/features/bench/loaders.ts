import { addDays, type PlainDate } from '@/lib/domain/calendar/date'
import { writeLongDay } from '@/lib/domain/calendar/wording'
import type { CareProfile } from '@/lib/domain/care-profile/profile'
import { hardeningUntil } from '@/lib/domain/development/hardening'
import { formatCode, individualCodes } from '@/lib/domain/label/code'
import { reservedNumbers } from '@/lib/domain/label/run'
import { isAllowed } from '@/lib/domain/role/permissions'
import type { BenchOpening } from '@/lib/domain/separation/bench-run'
import { sayDeadline } from '@/lib/domain/separation/wording'
import type { BenchRun, BenchWho, RunStanding } from '@/lib/features/bench/schema'
import {
  type ClutchRow,
  forecastClutch,
  likelyMoults,
  loadClutchGround,
  requireClutch,
} from '@/lib/features/clutch/data'
import { countHanging } from '@/lib/features/clutch-observation/data'
import { listContainerKinds } from '@/lib/features/container/data'
import {
  countRunEntries,
  listTakenLabels,
  loadNewestEntry,
  requireSeparation,
  type SeparationRow,
} from '@/lib/features/separation/data'
import { readSignedIn } from '@/lib/platform/current-session'
import type { Tx } from '@/lib/platform/db'
import { AppError } from '@/lib/platform/errors'
import { listOwnScopes } from '@/lib/platform/own-scopes'
import { listOwnWorkspaces } from '@/lib/platform/session'
import { inWorkspace, type Scope, type Workspace } from '@/lib/platform/workspace'

/** Who is signed in on this device, for the page that is the same for everybody. */
export async function loadBenchWho(): Promise<BenchWho> {
  const { personId, name, email } = await requirePerson()
  const own = await listOwnWorkspaces(personId)
  return {
    person: { id: personId, name, email },
    workspaces: own.map(({ workspaceId, role, ...rest }) => ({
      id: workspaceId,
      ...rest,
      mayCount: isAllowed(role, 'clutch:write'),
    })),
  }
}

async function requirePerson() {
  const person = await readSignedIn()
  if (!person) throw new AppError('unauthorised', 'Sign in to go on at the bench.')
  return person
}

/** Who hangs this evening has shed by tomorrow, and is soft for some days after that. */
function sayHangingUntil(profile: CareProfile, today: PlainDate): string {
  return writeLongDay(hardeningUntil(profile, { lastMoultOn: addDays(today, 1), isFinal: false }))
}

type AskedRun = { workspaceId: string; run: string }

/** A run with everything a device needs to go on with it without a connection. */
export async function loadBenchRun(asked: AskedRun): Promise<BenchRun> {
  const person = await requirePerson()
  const scope = await requireBenchScope(person.personId, asked.workspaceId)
  return inWorkspace(scope, async (tx, workspace) => {
    const row = await requireSeparation(tx, workspace.workspaceId, asked.run)
    // Before the counts: what comes in between is said again the next time, and nothing is missed.
    const seen = await loadNewestEntry(tx, workspace.workspaceId, row.clutchId)
    const clutch = await requireClutch(tx, workspace.workspaceId, { id: row.clutchId })
    const ground = await loadClutchGround(tx, workspace)
    const forecast = forecastClutch(clutch, ground)
    const species = ground.species.get(clutch.speciesId)
    const kinds = await listContainerKinds(tx, workspace.workspaceId)
    const { clutchId: _, zoneId: __, ...run } = row
    return {
      workspace: { id: workspace.workspaceId, slug: workspace.slug, name: workspace.name },
      person: { id: person.personId, name: person.name },
      run,
      clutch: {
        id: clutch.id,
        label: clutch.label,
        scientificName: species?.scientificName ?? '',
      },
      kinds: kinds
        .filter(({ id, single }) => single || id === run.containerKindId)
        .map(({ id, name }) => ({ id, name })),
      labels: codesOf(row, workspace).map(formatCode),
      standing: { ...(await loadOpening(tx, workspace, { row, clutch })), seen },
      likelyMoults: likelyMoults(forecast && forecastClutch(clutch, { ...ground, today: run.on })),
      deadline: forecast ? sayDeadline(forecast, ground.today) : '',
      hangingUntil: species?.profile ? sayHangingUntil(species.profile, ground.today) : '',
    }
  })
}

type Known = { seen?: string | undefined; hanging?: number | undefined }

/** How a run stands now; null where nothing has happened at its clutch since what the device knows. */
export async function loadRunStanding(asked: AskedRun & Known): Promise<RunStanding | null> {
  const person = await requirePerson()
  const scope = await requireBenchScope(person.personId, asked.workspaceId)
  return inWorkspace(scope, (tx, workspace) => loadStanding(tx, workspace, asked))
}

/** A device that says nothing of those that hang is of an older build, and is answered as before. */
export async function loadStanding(
  tx: Tx,
  workspace: Workspace,
  { run, ...known }: { run: string } & Known,
): Promise<RunStanding | null> {
  const { workspaceId } = workspace
  const row = await requireSeparation(tx, workspaceId, run)
  const seen = await loadNewestEntry(tx, workspaceId, row.clutchId)
  if (seen === known.seen) {
    const hanging = await countHanging(tx, workspaceId, row)
    if (hanging === (known.hanging ?? hanging)) return null
  }
  const clutch = await requireClutch(tx, workspaceId, { id: row.clutchId })
  return { ...(await loadOpening(tx, workspace, { row, clutch })), seen }
}

/** Whoever may not count in a workspace now is told so; whoever does not belong to it learns nothing of it. */
async function requireBenchScope(personId: string, workspaceId: string): Promise<Scope> {
  const scopes = await listOwnScopes(personId)
  const scope = scopes.find((each) => each.workspaceId === workspaceId)
  if (!scope) throw new AppError('not-found', 'You do not belong to that workspace now.')
  if (!isAllowed(scope.role, 'clutch:write'))
    throw new AppError('forbidden', 'Your role there does not include this now.')
  return scope
}

function codesOf({ firstNumber, planned }: SeparationRow, { labelKey }: Workspace): string[] {
  return individualCodes({ first: firstNumber, count: reservedNumbers(planned) }, String(labelKey))
}

async function loadOpening(
  tx: Tx,
  workspace: Workspace,
  { row, clutch }: { row: SeparationRow; clutch: ClutchRow },
): Promise<BenchOpening> {
  const { workspaceId } = workspace
  const codes = codesOf(row, workspace)
  const taken = new Set(await listTakenLabels(tx, workspaceId, codes))
  return {
    ...(await countRunEntries(tx, workspaceId, row.id)),
    together: clutch.headCount.together,
    isCounted: clutch.counted,
    hanging: await countHanging(tx, workspaceId, row),
    nextNumber: row.firstNumber + codes.findLastIndex((code) => taken.has(code)) + 1,
    endNumber: row.firstNumber + codes.length,
  }
}
