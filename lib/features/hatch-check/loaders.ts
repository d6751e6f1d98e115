import type { PlainDate } from '@/lib/domain/calendar/date'
import { answerHatch, type HatchAnswer } from '@/lib/domain/hatch-check/answer'
import { foodOfHatch, type WeekFood } from '@/lib/domain/hatch-check/food'
import { type HatchMove, moveForHatch } from '@/lib/domain/hatch-check/move'
import { sayBetterDay, sayHatchAnswer } from '@/lib/domain/hatch-check/wording'
import { isAllowed, type Role } from '@/lib/domain/role/permissions'
import { type HatchCheckGround, loadHatchCheckGround } from '@/lib/features/hatch-check/data'
import { type HatchCheckAnswer, hatchCheckSchema } from '@/lib/features/hatch-check/schema'
import { listSpecies, type SpeciesWithProfile } from '@/lib/features/species/data'
import { listZones } from '@/lib/features/zone/data'
import { AppError } from '@/lib/platform/errors'
import { readInput } from '@/lib/platform/input'
import { loadPage } from '@/lib/platform/page'

export type CheckedHatch = { answer: HatchAnswer; food: WeekFood[]; move: HatchMove | null; sentence: string }

/** Computes the answer from what was collected. */
export function checkHatch(collected: HatchCheckGround): CheckedHatch {
  const { forecast, place, span, room, lines, input, ground, zones } = collected
  const nymphs = forecast.expectedNymphs
  const answer = answerHatch({ hatchOn: forecast.p50, nymphs, place, span, room })
  const { profile, growth } = place
  const food = foodOfHatch(answer.load, { profile, growth, lines })
  const move = answer.betterDay ? moveForHatch(input, { on: answer.betterDay.on, zones }) : null
  const said = { typical: nymphs.typical, today: ground.today }
  return { answer, food, move, sentence: sayHatchAnswer(answer, said) }
}

const round = (value: number) => Math.round(value * 10) / 10

/** As the API says it; costs only to those who may see them. */
export function presentHatchCheck(collected: HatchCheckGround, role: Role): HatchCheckAnswer {
  const { forecast, workspace } = collected
  const { answer, food, move, sentence } = checkHatch(collected)
  const { p10, p50, p90, chanceStillHatches, expectedNymphs } = forecast
  const maySeeCosts = isAllowed(role, 'cost:read')
  return {
    verdict: answer.verdict,
    sentence,
    hatchOn: p50,
    hatchWindow: { p10, p50, p90 },
    chance: chanceStillHatches,
    nymphs: expectedNymphs,
    dueOn: answer.load.dueOn,
    raise: answer.raise,
    earlyLots: answer.earlyLots,
    limit: answer.limit,
    betterDay: answer.betterDay,
    move: move && { zone: move.zoneId, on: move.on, hatchOn: move.hatchOn },
    weeks: answer.weeks.map((week, index) => ({
      week: week.week,
      living: round(week.living),
      partingMinutes: round(week.partingMinutes),
      feedingMinutes: round(week.feedingMinutes),
      minutes: week.minutes,
      spokenMinutes: round(week.spokenMinutes),
      containers: round(week.cups),
      freeContainers: week.freeCups,
      spokenContainers: round(week.spokenCups),
      isShortOfHours: week.isShortOfHours,
      isShortOfContainers: week.isShortOfCups,
      food: (food[index]?.lines ?? []).map(({ id, items, units, isCulture }) => ({
        line: id,
        items: Math.round(items),
        cultures: isCulture ? round(units) : null,
        packs: isCulture ? null : round(units),
      })),
      cost: maySeeCosts
        ? { amount: Math.round(food[index]?.costMinor ?? 0), currency: workspace.currency }
        : null,
    })),
  }
}

export type HatchCheckPage = {
  today: PlainDate
  currency: string
  maySeeCosts: boolean
  choices: { species: Choice[]; zones: Choice[] }
  asked: Record<string, string>
  problem: string | null
  checked:
    | (CheckedHatch & {
        subject: { label: string | null; id: string | null; scientificName: string; reason: string }
        window: { p10: PlainDate; p90: PlainDate }
        chance: number
        nymphs: { low: number; typical: number; high: number }
        better: string | null
      })
    | null
}
type Choice = { value: string; label: string }

/** The question with its answer; an address without one shows the form for an egg case that is not here yet. */
export async function loadHatchCheckPage(
  slug: string,
  searched: Record<string, string | string[] | undefined>,
): Promise<HatchCheckPage> {
  const asked = Object.fromEntries(
    Object.entries(searched).flatMap(([key, value]) =>
      typeof value === 'string' && value ? [[key, value]] : [],
    ),
  )
  return loadPage({ slug, permission: 'egg-case:read' }, async ({ tx, scope, workspace }) => {
    const collected = await collectAsked(asked, (question) => loadHatchCheckGround(tx, workspace, question))
    const species = await listSpecies(tx, workspace.workspaceId)
    const zones = await listZones(tx, workspace.workspaceId)
    return {
      today: workspace.today,
      currency: workspace.currency,
      maySeeCosts: isAllowed(scope.role, 'cost:read'),
      choices: {
        species: species.filter(({ profile }) => profile).map(choiceOf),
        zones: zones.map(({ id: value, name: label }) => ({ value, label })),
      },
      asked,
      problem: 'problem' in collected ? collected.problem : null,
      checked: 'ground' in collected ? presentChecked(collected) : null,
    }
  })
}

const choiceOf = ({ slug: value, scientificName: label }: SpeciesWithProfile): Choice => ({ value, label })

/** What was typed and cannot be is said on the page; what nobody asked is no problem. */
async function collectAsked(
  asked: Record<string, string>,
  load: (question: ReturnType<typeof hatchCheckSchema.parse>) => Promise<HatchCheckGround>,
): Promise<HatchCheckGround | { problem: string | null }> {
  if (Object.keys(asked).length === 0) return { problem: null }
  const { nymphs, ...rest } = asked
  const read = readInput(hatchCheckSchema, { ...rest, ...(nymphs ? { nymphs: Number(nymphs) } : {}) })
  if (read.status !== 'ok') return { problem: read.fields[0]?.message ?? 'This needs another look.' }
  try {
    return await load(read.data)
  } catch (error) {
    if (!(error instanceof AppError) || error.code !== 'invalid') throw error
    return { problem: error.fields?.[0]?.message ?? error.message }
  }
}

function presentChecked(collected: HatchCheckGround): NonNullable<HatchCheckPage['checked']> {
  const { forecast, eggCase, ground, speciesId } = collected
  const checked = checkHatch(collected)
  return {
    ...checked,
    subject: {
      label: eggCase?.label ?? null,
      id: eggCase?.id ?? null,
      scientificName: ground.species.get(speciesId)?.scientificName ?? '',
      reason: forecast.reason,
    },
    window: { p10: forecast.p10, p90: forecast.p90 },
    chance: forecast.chanceStillHatches,
    nymphs: forecast.expectedNymphs,
    better: sayBetterDay(checked.answer, checked.move, ground.today),
  }
}
