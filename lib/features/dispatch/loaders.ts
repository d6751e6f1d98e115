import { firstDispatchDays, type HeldUp } from '@/lib/domain/dispatch/days'
import type { DispatchQuestion } from '@/lib/domain/dispatch/order'
import { travellerOfPosted } from '@/lib/domain/dispatch/posted'
import { waysOutOf } from '@/lib/domain/dispatch/way-out'
import { sayFirstDay, sayWayOut } from '@/lib/domain/dispatch/wording'
import { instarNamingOf } from '@/lib/domain/instar/naming'
import { isAllowed } from '@/lib/domain/role/permissions'
import { loadDispatchBook, loadDispatchGround, questionOf, travellersOf } from '@/lib/features/dispatch/data'
import type { DispatchCase, DispatchCheck, DispatchCheckAnswer } from '@/lib/features/dispatch/schema'
import { requireOrder } from '@/lib/features/order/data'
import { loadProfiles, type SpeciesWithProfile } from '@/lib/features/species/data'
import type { Tx } from '@/lib/platform/db'
import { refuseField } from '@/lib/platform/errors'
import { loadPage } from '@/lib/platform/page'
import type { Workspace } from '@/lib/platform/workspace'

/** The question as it was asked for, with its records or without any. */
export async function loadDispatchQuestion(
  tx: Tx,
  workspace: Workspace,
  asked: DispatchCheck,
): Promise<DispatchQuestion> {
  const { workspaceId } = workspace
  if (asked.order !== undefined) {
    const order = await requireOrder(tx, workspaceId, asked.order)
    if (order.leftOn !== null || order.cancelledOn !== null)
      throw refuseField('order', 'This order has left already or was taken back.')
    const ground = await loadDispatchGround(tx, workspace, [order])
    return { ...questionOf(order, ground, travellersOf(ground)), horizonDays: asked.days }
  }
  const species = [...(await loadProfiles(tx, workspaceId)).values()]
  if (!asked.case) throw refuseField('case', 'Name an order, or post a case.')
  return { ...questionOfCase(asked.case, species, workspace), horizonDays: asked.days }
}

function questionOfCase(
  posted: DispatchCase,
  species: readonly SpeciesWithProfile[],
  workspace: Workspace,
): Omit<DispatchQuestion, 'horizonDays'> {
  const { today } = workspace
  const { isForBeginner, transitDays, weekdays, closedDays, air, isCollectedAtDepot } = posted
  const labels = posted.animals.map(({ label }) => label)
  const animals = posted.animals.map((animal, index) => {
    const at = (field: string) => `case.animals.${index}.${field}`
    const found = species.find(({ id, slug }) => id === animal.species || slug === animal.species)
    if (!found?.profile) throw refuseField(at('species'), 'There is no care profile of this species here.')
    if (animal.lastMoultOn > today) throw refuseField(at('lastMoultOn'), 'This day is in the future.')
    if (labels.indexOf(animal.label) !== index) throw refuseField(at('label'), 'Named twice.')
    const { lastFedOn = null, lastRefusedOn = null, quarantineUntil = null } = animal
    const said = { ...animal, lastFedOn, lastRefusedOn, quarantineUntil }
    return travellerOfPosted(said, { ...found, profile: found.profile }, { today, isForBeginner })
  })
  const lines = animals.map(({ id, speciesId, scientificName }, index) => ({
    number: index + 1,
    ...{ speciesId, words: scientificName, sex: 'any' as const, count: 1, chosen: [id] },
    stage: { fromMoults: 0, untilMoults: null, takes: 'either' as const },
  }))
  const rules = { weekdays, transitDays, closedDays }
  const naming = instarNamingOf(workspace)
  return { today, lines, animals, rules, air, isCollected: isCollectedAtDepot, naming }
}

const round = (chance: number) => Math.round(chance * 1000) / 1000

/** Computes the answer from what was collected. */
export function checkDispatch(question: DispatchQuestion): DispatchCheckAnswer {
  const answer = firstDispatchDays(question)
  const { today } = question
  const label = new Map(question.animals.map(({ id, label: own }) => [id, own]))
  const names = { animal: (id: string) => label.get(id) ?? '' }
  return {
    sentence: sayFirstDay(answer, today),
    days: answer.days.map(({ packOn, arriveOn, going, packing, missingAir }) => ({
      packOn,
      arriveOn,
      leastChance: round(Math.min(...going.map(({ chance }) => chance))),
      packing: packing?.way ?? null,
      isAirKnown: missingAir === null,
      animals: going.map(({ line, animal, chance, isChosen }) => ({
        line,
        animal,
        chance: round(chance),
        isChosen,
      })),
      duties: going.flatMap(({ animal, duty }) => (duty ? [`${names.animal(animal)}: ${duty}`] : [])),
    })),
    heldUp: answer.heldUp.map(presentHeldUp),
    waysOut: waysOutOf(answer, question).map((way) => sayWayOut(way, names, today)),
    lookedUntil: answer.lookedUntil,
  }
}

function presentHeldUp({ hold, stretches }: HeldUp): DispatchCheckAnswer['heldUp'][number] {
  return {
    by: hold.by,
    animal: hold.by === 'animal' ? hold.animal : null,
    line: hold.by === 'line' ? hold.line : null,
    code: hold.by === 'animal' ? hold.code : null,
    stretches,
    message: hold.message,
  }
}

/** When and how boxes are sent, and the days on which none are. */
export function loadSendingPage(slug: string) {
  return loadPage({ slug, permission: 'order:read' }, async ({ tx, workspace, scope }) => {
    const { workspaceId, today } = workspace
    const book = await loadDispatchBook(tx, workspaceId, { today })
    return { ...book, today, mayWrite: isAllowed(scope.role, 'order:write') }
  })
}
export type SendingPage = Awaited<ReturnType<typeof loadSendingPage>>
