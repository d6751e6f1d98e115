import { randomUUID } from 'node:crypto'
import { createApiToken, revokeApiToken } from '@/lib/features/api-token/mutations'
import { recordBenchOperations } from '@/lib/features/bench/mutations'
import { createCareSheets } from '@/lib/features/care-sheet/mutations'
import {
  recordCountCorrection,
  recordFoundAgain,
  recordLoss,
  recordRecount,
  recordReversal,
  updateClutchZone,
} from '@/lib/features/clutch/mutations'
import { newLossFormSchema } from '@/lib/features/clutch/schema'
import {
  archiveContainerKind,
  createContainerKind,
  createContainerOrder,
  recordArrival,
  updateContainerKind,
} from '@/lib/features/container/mutations'
import { recordLeaving, returnIndividual } from '@/lib/features/departure/mutations'
import { leavingFormSchema, returnFormSchema } from '@/lib/features/departure/schema'
import {
  archiveEggCase,
  createEggCase,
  recordHatch,
  updateColdRest,
  updateEggCaseOpen,
  updateEggCaseZone,
} from '@/lib/features/egg-case/mutations'
import {
  eggCaseEndSchema,
  eggCaseRestSchema,
  newEggCaseSchema,
  newHatchSchema,
} from '@/lib/features/egg-case/schema'
import { recordFeedings } from '@/lib/features/feeding/mutations'
import { recordMove, recordMoves } from '@/lib/features/housing/mutations'
import { moveFormSchema, moveSchema } from '@/lib/features/housing/schema'
import { createIndividuals, recordSexing, updateIndividualNote } from '@/lib/features/individual/mutations'
import { newIndividualSchema, noteFormSchema } from '@/lib/features/individual/schema'
import { createInvitation, revokeInvitation } from '@/lib/features/invitation/mutations'
import { endMembership, updateRole } from '@/lib/features/membership/mutations'
import {
  archiveMoult,
  recordMoults,
  updateMoultConfirmed,
  updateMoultDay,
} from '@/lib/features/moult/mutations'
import { newMoultFormSchema, readNewMoults } from '@/lib/features/moult/schema'
import { revokePublicLink } from '@/lib/features/public-link/mutations'
import { createSale } from '@/lib/features/sale/mutations'
import { reverseSale } from '@/lib/features/sale-return/mutations'
import { createSeparation, recordSeparation } from '@/lib/features/separation/mutations'
import { requireSpecies } from '@/lib/features/species/data'
import { createSpecies, updateCareProfile } from '@/lib/features/species/mutations'
import { updateSecondFactorRule, updateSlug, updateWorkspace } from '@/lib/features/workspace/mutations'
import {
  archiveZone,
  createZone,
  recordQuarantine,
  recordSetPoint,
  updateZone,
} from '@/lib/features/zone/mutations'
import { AppError } from '@/lib/platform/errors'
import { animalLine, plainSale } from '@/tests/support/sale'
import type { Calls, Ids } from './call'

const ON = '2026-03-20'
const placeOf = (id: Ids) => ({ containerKind: id.containerKind, zone: id.zone })
const KIND = { volumeMl: 500, innerHeightMm: 120, innerWidthMm: 80, single: true, stock: 5 }

export const WRITES: Calls = {
  'api-token/mutations createApiToken': (tx, { scope }) =>
    createApiToken(tx, scope, { name: 'till', role: 'viewer', days: 3 }),
  'api-token/mutations revokeApiToken': (tx, { workspace }, id) =>
    revokeApiToken(tx, workspace.workspaceId, id.apiToken),
  'bench/mutations recordBenchOperations': async (_tx, { scope }, id) => {
    const envelope = {
      id: randomUUID(),
      workspaceId: id.workspace,
      personId: scope.personId,
      run: id.separation,
    }
    const tap = { ...envelope, on: ON, tappedAt: '2026-03-20T18:00:00Z', v: 1, kind: 'escaped', payload: {} }
    const person = { personId: String(scope.personId), scopes: [scope] }
    const [answer] = await recordBenchOperations(person, [tap])
    if (answer?.status === 'refused') throw new AppError(answer.code as AppError['code'], answer.message)
  },
  'care-sheet/mutations createCareSheets': (tx, actor, id) =>
    createCareSheets(tx, actor, { individuals: [id.individual] }),
  'clutch/mutations recordLoss': (tx, actor, id) =>
    recordLoss(tx, actor, newLossFormSchema.parse({ clutch: id.clutch, on: ON, count: 1 })),
  'clutch/mutations recordRecount': (tx, actor, id) =>
    recordRecount(tx, actor, { clutch: id.clutch, on: ON, counted: 1, note: '' }),
  'clutch/mutations recordCountCorrection': (tx, actor, id) =>
    recordCountCorrection(tx, actor, { clutch: id.clutch, on: ON, hatched: 4, note: '' }),
  'clutch/mutations recordFoundAgain': (tx, actor, id) =>
    recordFoundAgain(tx, actor, { clutch: id.clutch, on: ON, count: 1 }),
  'clutch/mutations recordReversal': (tx, actor, id) =>
    recordReversal(tx, actor, { clutch: id.clutch, entry: id.entry, note: '' }),
  'clutch/mutations updateClutchZone': (tx, actor, id) =>
    updateClutchZone(tx, actor, { clutch: id.clutch, zone: id.zone, on: ON }),
  'container/mutations createContainerKind': (tx, { workspace }) =>
    createContainerKind(tx, workspace, { name: 'Box', ...KIND }),
  'container/mutations updateContainerKind': (tx, { workspace }, id) =>
    updateContainerKind(tx, workspace.workspaceId, {
      id: id.containerKind,
      version: 1,
      name: 'Box',
      stock: 3,
    }),
  'container/mutations createContainerOrder': (tx, { workspace }, id) =>
    createContainerOrder(tx, workspace, { kindId: id.containerKind, count: 3, on: workspace.today }),
  'container/mutations recordArrival': (tx, { workspace }, id) =>
    recordArrival(tx, workspace, { orderId: id.containerOrder }),
  'container/mutations archiveContainerKind': (tx, { workspace }, id) =>
    archiveContainerKind(tx, workspace.workspaceId, { id: id.containerKind, version: 1 }),
  'departure/mutations recordLeaving': (tx, actor, id) =>
    recordLeaving(tx, actor, leavingFormSchema.parse({ individuals: [id.individual], on: ON, to: 'dead' })),
  'departure/mutations returnIndividual': (tx, actor, id) =>
    returnIndividual(tx, actor, returnFormSchema.parse({ individual: id.gone, on: ON, ...placeOf(id) })),
  'egg-case/mutations createEggCase': (tx, actor, id) =>
    createEggCase(
      tx,
      actor,
      newEggCaseSchema.parse({ species: id.species, zone: id.zone, mother: id.individual, laidOn: ON }),
    ),
  'egg-case/mutations recordHatch': (tx, actor, id) => {
    const hatch = newHatchSchema.parse({ on: ON, count: 2, clutch: id.clutch })
    return recordHatch(tx, actor, { ...hatch, eggCase: id.eggCase })
  },
  'egg-case/mutations recordHatch, of a new clutch': (tx, actor, id) => {
    const hatch = newHatchSchema.parse({ on: ON, count: 2, zone: id.zone })
    return recordHatch(tx, actor, { ...hatch, eggCase: id.eggCase, isNewClutch: true })
  },
  'egg-case/mutations updateEggCaseZone': (tx, actor, id) =>
    updateEggCaseZone(tx, actor, { eggCase: id.eggCase, zone: id.zone, on: ON }),
  'egg-case/mutations updateColdRest': (tx, actor, id) =>
    updateColdRest(tx, actor, eggCaseRestSchema.parse({ eggCase: id.eggCase, version: 1, startOn: ON })),
  'egg-case/mutations archiveEggCase': (tx, actor, id) =>
    archiveEggCase(
      tx,
      actor,
      eggCaseEndSchema.parse({ eggCase: id.eggCase, version: 1, on: ON, end: 'spent' }),
    ),
  'egg-case/mutations updateEggCaseOpen': (tx, actor, id) =>
    updateEggCaseOpen(tx, actor, { eggCase: id.eggCase, version: 1 }),
  'feeding/mutations recordFeedings': (tx, { workspace }, id) =>
    recordFeedings(tx, workspace, { individuals: [id.individual], on: ON, ate: true, prey: '' }),
  'housing/mutations recordMove': (tx, { workspace }, id) =>
    recordMove(tx, workspace, { ...moveSchema.parse({ on: ON, ...placeOf(id) }), individual: id.individual }),
  'housing/mutations recordMoves': (tx, { workspace }, id) =>
    recordMoves(
      tx,
      workspace,
      moveFormSchema.parse({ individuals: [id.individual], on: ON, ...placeOf(id) }),
    ),
  'individual/mutations createIndividuals': (tx, actor, id) => {
    const typed = { species: id.species, origin: 'bought', on: ON, instar: 3, ...placeOf(id) }
    return createIndividuals(tx, actor, { animal: newIndividualSchema.parse(typed), count: 1 })
  },
  'individual/mutations recordSexing': (tx, { workspace }, id) =>
    recordSexing(tx, workspace, { individual: id.individual, sex: 'female', certainty: 'probable' }),
  'individual/mutations updateIndividualNote': (tx, { workspace }, id) =>
    updateIndividualNote(
      tx,
      workspace,
      noteFormSchema.parse({ individual: id.individual, version: 1, notes: 'calm' }),
    ),
  'invitation/mutations createInvitation': (tx, actor) =>
    createInvitation(tx, actor, { email: 'new.keeper@example.test', role: 'keeper' }),
  'invitation/mutations revokeInvitation': (tx, { workspace }, id) =>
    revokeInvitation(tx, workspace.workspaceId, id.invitation),
  'membership/mutations updateRole': (tx, { workspace }, id) =>
    updateRole(tx, workspace.workspaceId, { personId: id.person, version: 1, role: 'keeper' }),
  'membership/mutations endMembership': (tx, { workspace }, id) =>
    endMembership(tx, workspace.workspaceId, id.person),
  'moult/mutations recordMoults': (tx, { workspace }, id) =>
    recordMoults(
      tx,
      workspace,
      readNewMoults(newMoultFormSchema.parse({ individuals: [id.individual], on: ON })),
    ),
  'moult/mutations updateMoultDay': (tx, { workspace }, id) =>
    updateMoultDay(tx, workspace, { moult: id.moult, version: 1, on: '2026-03-08' }),
  'moult/mutations updateMoultConfirmed': (tx, { workspace }, id) =>
    updateMoultConfirmed(tx, workspace, { moult: id.moult, version: 1, isRight: true }),
  'moult/mutations archiveMoult': (tx, { workspace }, id) =>
    archiveMoult(tx, workspace, { moult: id.moult, version: 1 }),
  'public-link/mutations revokePublicLink': (tx, { workspace }, id) =>
    revokePublicLink(tx, workspace.workspaceId, { individual: id.individual, version: 1 }),
  'sale/mutations createSale': (tx, actor, id) => {
    const animal = animalLine(id.individual, 1250, { overrideReason: 'asked for' })
    return createSale(tx, actor, plainSale(ON, [animal], { buyer: id.buyer }))
  },
  'sale-return/mutations reverseSale': (tx, actor, id) =>
    reverseSale(tx, actor, { sale: id.sale, on: ON, reason: 'came back', ...placeOf(id) }),
  'separation/mutations createSeparation': (tx, actor, id) =>
    createSeparation(tx, actor, { clutch: id.clutch, ...placeOf(id), on: ON, planned: 1 }),
  'separation/mutations recordSeparation': (tx, actor, id) =>
    recordSeparation(tx, actor, { clutch: id.clutch, ...placeOf(id), on: ON, count: 1 }),
  'species/mutations createSpecies': (tx, { workspace }, id) =>
    createSpecies(tx, workspace.workspaceId, {
      scientificName: 'Tenodera nova',
      kind: 'mantis',
      likeId: id.species,
    }),
  'species/mutations updateCareProfile': async (tx, { workspace: { workspaceId } }, id) => {
    const species = await requireSpecies(tx, workspaceId, id.species)
    const edits = [{ path: 'humidity.low', value: 55, note: 'seen' }]
    return updateCareProfile(tx, workspaceId, { species, edits, on: 1 })
  },
  'workspace/mutations updateWorkspace': (tx, { workspace }) =>
    updateWorkspace(tx, workspace.workspaceId, { ...SETTINGS, version: 1, name: 'Renamed lane' }),
  'workspace/mutations updateSecondFactorRule': (tx, { workspace }) =>
    updateSecondFactorRule(tx, workspace.workspaceId, false),
  'workspace/mutations updateSlug': (tx, { workspace }) =>
    updateSlug(tx, workspace.workspaceId, { version: 1, slug: 'renamed-lane' }),
  'zone/mutations createZone': (tx, { workspace }) =>
    createZone(tx, workspace, { name: 'Cellar', setTemperatureC: 12 }),
  'zone/mutations updateZone': (tx, { workspace }, id) =>
    updateZone(tx, workspace.workspaceId, { id: id.zone, version: 1, name: 'Cellar', walkingOrder: 2 }),
  'zone/mutations recordQuarantine': (tx, { workspace }, id) =>
    recordQuarantine(tx, workspace, { id: id.zone, version: 1, reason: '' }),
  'zone/mutations recordSetPoint': (tx, { workspace }, id) =>
    recordSetPoint(tx, workspace, { zoneId: id.zone, from: ON, dayC: 25 }),
  'zone/mutations archiveZone': (tx, { workspace }, id) =>
    archiveZone(tx, workspace.workspaceId, { id: id.zone, version: 1 }),
}

const SETTINGS = {
  country: 'DE',
  timeZone: 'Europe/Berlin',
  language: 'en',
  instarConvention: 'hatchling_is_first',
  instarStyle: 'ordinal',
  temperatureUnit: 'celsius',
  lengthUnit: 'millimetre',
} as const
