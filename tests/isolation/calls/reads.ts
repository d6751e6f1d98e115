import { listApiTokens } from '@/lib/features/api-token/data'
import { listAuditEntries } from '@/lib/features/audit/data'
import { loadCareSheets, loadLabels } from '@/lib/features/care-sheet/data'
import {
  listClutches,
  listEntries,
  loadHeadCount,
  lockClutch,
  requireClutch,
} from '@/lib/features/clutch/data'
import { listContainerKinds, listContainers, requireContainerKind } from '@/lib/features/container/data'
import { loadDayList } from '@/lib/features/day-sheet/data'
import {
  listEggCases,
  listSiblingClutches,
  loadForecastGround,
  requireEggCase,
} from '@/lib/features/egg-case/data'
import { loadIndividualHistory } from '@/lib/features/history/data'
import {
  endStays,
  openStays,
  requireOpenZone,
  requirePlace,
  takeContainer,
} from '@/lib/features/housing/data'
import {
  listIndividuals,
  loadIndividualsByLabel,
  lockIndividual,
  lockIndividuals,
  requireIndividual,
  requireIndividuals,
} from '@/lib/features/individual/data'
import { listOpenInvitations } from '@/lib/features/invitation/data'
import { getLabelledId } from '@/lib/features/label/data'
import { listMails } from '@/lib/features/mail/data'
import { listMembers, loadMemberNames } from '@/lib/features/membership/data'
import { listPagesOfAnimal, loadPublicLinks, openPublicLinks } from '@/lib/features/public-link/data'
import { listSales, loadReceiptNumbers, requireSale } from '@/lib/features/sale/data'
import {
  countRunEntries,
  listOpenSeparations,
  listRunAnimals,
  listTakenLabels,
  loadLikelyMoults,
  loadNewestEntry,
  openSingles,
  requireSeparation,
} from '@/lib/features/separation/data'
import { listSpecies, loadProfiles, loadSpeciesById, requireSpecies } from '@/lib/features/species/data'
import { isSecondFactorRequired } from '@/lib/features/workspace/data'
import { countOccupantsByZone, listZones, loadZonesById, requireZone } from '@/lib/features/zone/data'
import type { Calls } from './call'

const ON = '2026-03-20'

export const READS: Calls = {
  'api-token/data listApiTokens': (tx, { workspace }) => listApiTokens(tx, workspace.workspaceId),
  'audit/data listAuditEntries': (tx, { workspace }, id) =>
    listAuditEntries(tx, workspace.workspaceId, { before: id.auditEntry, currency: 'EUR' }),
  'care-sheet/data loadCareSheets': (tx, { workspace }, id) =>
    loadCareSheets(tx, workspace, { ids: [id.individual], choice: {} }),
  'care-sheet/data loadLabels': (tx, { workspace }, id) =>
    loadLabels(tx, workspace, { ids: [id.individual], choice: {}, address: 'http://127.0.0.1' }),
  'clutch/data listClutches': (tx, { workspace }, id) =>
    listClutches(tx, workspace.workspaceId, { speciesId: id.species, limit: 10 }),
  'clutch/data requireClutch': (tx, { workspace }, id) =>
    requireClutch(tx, workspace.workspaceId, { id: id.clutch }),
  'clutch/data lockClutch': (tx, { workspace }, id) => lockClutch(tx, workspace.workspaceId, id.clutch),
  'clutch/data loadHeadCount': (tx, { workspace }, id) =>
    loadHeadCount(tx, workspace.workspaceId, { clutchId: id.clutch, asOf: ON }),
  'clutch/data listEntries': (tx, { workspace }, id) =>
    listEntries(tx, workspace.workspaceId, { clutchId: id.clutch, limit: 10 }),
  'container/data listContainerKinds': (tx, { workspace }) => listContainerKinds(tx, workspace.workspaceId),
  'container/data requireContainerKind': (tx, { workspace }, id) =>
    requireContainerKind(tx, workspace.workspaceId, id.containerKind),
  'container/data listContainers': (tx, { workspace }) =>
    listContainers(tx, workspace.workspaceId, { limit: 10 }),
  'day-sheet/data loadDayList': (tx, { workspace }) => loadDayList(tx, workspace),
  'egg-case/data listEggCases': (tx, { workspace }, id) =>
    listEggCases(tx, workspace.workspaceId, { speciesId: id.species, limit: 10 }),
  'egg-case/data listSiblingClutches': (tx, { workspace }, id) =>
    listSiblingClutches(tx, workspace.workspaceId, {
      ...{ motherId: id.individual, not: id.individual },
      since: '2026-01-01',
    }),
  'egg-case/data requireEggCase': (tx, { workspace }, id) =>
    requireEggCase(tx, workspace.workspaceId, id.eggCase),
  'egg-case/data loadForecastGround': (tx, { workspace }) => loadForecastGround(tx, workspace),
  'history/data loadIndividualHistory': (tx, { workspace }, id) =>
    loadIndividualHistory(tx, workspace.workspaceId, id.individual),
  'housing/data requirePlace': (tx, { workspace }, id) =>
    requirePlace(tx, workspace.workspaceId, { containerKind: id.containerKind, zone: id.zone, animals: 1 }),
  'housing/data requireOpenZone': (tx, { workspace }, id) =>
    requireOpenZone(tx, workspace.workspaceId, id.zone),
  'housing/data endStays': async (tx, { workspace: { workspaceId, today } }, id) => {
    const stay = { id: id.individual, containerId: id.container, from: '2026-03-01', until: null }
    await endStays(tx, workspaceId, {
      animals: [{ id: id.individual, label: '', stays: [stay] }],
      on: ON,
      today,
    })
  },
  'housing/data openStays': async (tx, { workspace: { workspaceId } }, id) => {
    const animals = await createLooseAnimal(tx, workspaceId, id.species)
    const kind = { id: id.containerKind, name: '', single: true, innerHeightMm: 70, innerWidthMm: 50 }
    const place = { kind, zoneId: id.zone, warnings: [] }
    await openStays(tx, workspaceId, { individualIds: animals, place, on: ON })
  },
  'housing/data takeContainer': (tx, { workspace }, id) =>
    takeContainer(tx, workspace.workspaceId, { containerId: id.container, on: ON }),
  'individual/data listIndividuals': (tx, { workspace }, id) =>
    listIndividuals(tx, workspace.workspaceId, {
      filter: { zoneId: id.zone, clutchId: id.clutch, speciesId: id.species },
      limit: 10,
    }),
  'individual/data requireIndividuals': (tx, { workspace }, id) =>
    requireIndividuals(tx, workspace.workspaceId, [id.individual]),
  'individual/data requireIndividual': (tx, { workspace }, id) =>
    requireIndividual(tx, workspace.workspaceId, id.individual),
  'individual/data lockIndividuals': (tx, { workspace }, id) =>
    lockIndividuals(tx, workspace.workspaceId, [id.individual]),
  'individual/data lockIndividual': (tx, { workspace }, id) =>
    lockIndividual(tx, workspace.workspaceId, id.individual),
  'individual/data loadIndividualsByLabel': (tx, { workspace }, id) =>
    loadIndividualsByLabel(tx, workspace.workspaceId, [id.label]),
  'invitation/data listOpenInvitations': (tx, { workspace }) =>
    listOpenInvitations(tx, workspace.workspaceId),
  'label/data getLabelledId': (tx, { workspace }, id) =>
    getLabelledId(tx, workspace.workspaceId, { kind: 'individual', code: id.label }),
  'mail/data listMails': (tx, { workspace }) => listMails(tx, workspace.workspaceId),
  'membership/data listMembers': (tx, { workspace }) => listMembers(tx, workspace.workspaceId),
  'membership/data loadMemberNames': (tx, { workspace }) => loadMemberNames(tx, workspace.workspaceId),
  'public-link/data listPagesOfAnimal': (tx, { workspace }, id) =>
    listPagesOfAnimal(tx, workspace.workspaceId, id.individual),
  'public-link/data loadPublicLinks': (tx, { workspace }, id) =>
    loadPublicLinks(tx, workspace.workspaceId, { kind: 'individual', ids: [id.individual] }),
  'public-link/data openPublicLinks': (tx, { workspace }, id) =>
    openPublicLinks(tx, workspace.workspaceId, { kind: 'individual', ids: [id.individual] }),
  'sale/data listSales': (tx, { workspace }) => listSales(tx, workspace.workspaceId, { limit: 10 }),
  'sale/data requireSale': (tx, { workspace }, id) => requireSale(tx, workspace.workspaceId, id.sale),
  'sale/data loadReceiptNumbers': (tx, { workspace }, id) =>
    loadReceiptNumbers(tx, workspace.workspaceId, [id.sold]),
  'separation/data countRunEntries': (tx, { workspace }, id) =>
    countRunEntries(tx, workspace.workspaceId, id.separation),
  'separation/data listTakenLabels': (tx, { workspace }, id) =>
    listTakenLabels(tx, workspace.workspaceId, [id.label]),
  'separation/data requireSeparation': (tx, { workspace }, id) =>
    requireSeparation(tx, workspace.workspaceId, id.separation),
  'separation/data listOpenSeparations': (tx, { workspace }, id) =>
    listOpenSeparations(tx, workspace.workspaceId, id.clutch),
  'separation/data listRunAnimals': (tx, { workspace }, id) =>
    listRunAnimals(tx, workspace.workspaceId, id.separation),
  'separation/data loadNewestEntry': (tx, { workspace }, id) =>
    loadNewestEntry(tx, workspace.workspaceId, id.clutch),
  'separation/data loadLikelyMoults': (tx, { workspace }, id) =>
    loadLikelyMoults(tx, workspace, { clutchId: id.clutch, on: ON }),
  'separation/data openSingles': (tx, { workspace }, id) =>
    openSingles(tx, workspace, {
      clutch: { id: id.clutch, speciesId: id.species },
      separationId: id.separation,
      place: {
        kind: { id: id.containerKind, name: '', single: true, innerHeightMm: 70, innerWidthMm: 50 },
        zoneId: id.zone,
        warnings: [],
      },
      on: ON,
      moults: 1,
      numbers: [900],
      recordedBy: id.person,
    }),
  'species/data listSpecies': (tx, { workspace }) => listSpecies(tx, workspace.workspaceId),
  'species/data requireSpecies': (tx, { workspace }, id) =>
    requireSpecies(tx, workspace.workspaceId, id.species),
  'species/data loadProfiles': (tx, { workspace }) => loadProfiles(tx, workspace.workspaceId),
  'species/data loadSpeciesById': (tx, { workspace }) => loadSpeciesById(tx, workspace.workspaceId),
  'workspace/data isSecondFactorRequired': (tx, { workspace }) =>
    isSecondFactorRequired(tx, workspace.workspaceId),
  'zone/data listZones': (tx, { workspace }) => listZones(tx, workspace.workspaceId, true),
  'zone/data loadZonesById': (tx, { workspace }) => loadZonesById(tx, workspace.workspaceId),
  'zone/data requireZone': (tx, { workspace }, id) => requireZone(tx, workspace.workspaceId, id.zone),
  'zone/data countOccupantsByZone': (tx, { workspace }) => countOccupantsByZone(tx, workspace.workspaceId),
}

/** An animal that is in no container yet. */
async function createLooseAnimal(
  tx: Parameters<Calls[string]>[0],
  workspaceId: string,
  speciesId: string,
): Promise<string[]> {
  const data = { workspaceId, label: 'LOOSE', speciesId, whereabouts: 'uncounted' as const }
  const { id } = await tx.individual.create({
    data: { ...data, baselineOn: new Date('2026-03-20'), baselineMoults: 1 },
  })
  return [id]
}
