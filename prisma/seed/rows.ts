import type { Tx } from '@/lib/platform/db'
import type { Prisma } from '@/lib/platform/generated/prisma/client'

/** Rows of one workspace, gathered before anything is written. */
export type Rows = {
  zone: Prisma.ZoneCreateManyInput[]
  zoneSetPoint: Prisma.ZoneSetPointCreateManyInput[]
  readingBatch: Prisma.ReadingBatchCreateManyInput[]
  reading: Prisma.ReadingCreateManyInput[]
  zoneDay: Prisma.ZoneDayCreateManyInput[]
  zoneWatch: Prisma.ZoneWatchCreateManyInput[]
  zoneWatcher: Prisma.ZoneWatcherCreateManyInput[]
  watchLook: Prisma.WatchLookCreateManyInput[]
  zoneIncident: Prisma.ZoneIncidentCreateManyInput[]
  containerKind: Prisma.ContainerKindCreateManyInput[]
  benchHours: Prisma.BenchHoursCreateManyInput[]
  benchDay: Prisma.BenchDayCreateManyInput[]
  containerKindOrder: Prisma.ContainerKindOrderCreateManyInput[]
  container: Prisma.ContainerCreateManyInput[]
  clutch: Prisma.ClutchCreateManyInput[]
  tray: Prisma.TrayCreateManyInput[]
  colony: Prisma.ColonyCreateManyInput[]
  colonyCount: Prisma.ColonyCountCreateManyInput[]
  clutchHousing: Prisma.ClutchHousingCreateManyInput[]
  individual: Prisma.IndividualCreateManyInput[]
  eggCase: Prisma.EggCaseCreateManyInput[]
  eggCaseStay: Prisma.EggCaseStayCreateManyInput[]
  hatch: Prisma.HatchCreateManyInput[]
  separation: Prisma.SeparationCreateManyInput[]
  headCountEntry: Prisma.HeadCountEntryCreateManyInput[]
  moult: Prisma.MoultCreateManyInput[]
  moultRound: Prisma.MoultRoundCreateManyInput[]
  look: Prisma.LookCreateManyInput[]
  clutchObservation: Prisma.ClutchObservationCreateManyInput[]
  housing: Prisma.HousingCreateManyInput[]
  feeding: Prisma.FeedingCreateManyInput[]
  sale: Prisma.SaleCreateManyInput[]
  saleLine: Prisma.SaleLineCreateManyInput[]
  preyLine: Prisma.PreyLineCreateManyInput[]
  preyLineVersion: Prisma.PreyLineVersionCreateManyInput[]
  culture: Prisma.CultureCreateManyInput[]
  harvest: Prisma.HarvestCreateManyInput[]
  preyOrder: Prisma.PreyOrderCreateManyInput[]
  preyCount: Prisma.PreyCountCreateManyInput[]
  otherMouth: Prisma.OtherMouthCreateManyInput[]
  foodLimits: Prisma.FoodLimitsCreateManyInput[]
  foodClosedDay: Prisma.FoodClosedDayCreateManyInput[]
  counter: Prisma.CounterCreateManyInput[]
}

export function emptyRows(): Rows {
  return {
    zone: [],
    zoneSetPoint: [],
    readingBatch: [],
    reading: [],
    zoneDay: [],
    zoneWatch: [],
    zoneWatcher: [],
    watchLook: [],
    zoneIncident: [],
    containerKind: [],
    benchHours: [],
    benchDay: [],
    containerKindOrder: [],
    container: [],
    clutch: [],
    tray: [],
    colony: [],
    colonyCount: [],
    clutchHousing: [],
    individual: [],
    eggCase: [],
    eggCaseStay: [],
    hatch: [],
    separation: [],
    headCountEntry: [],
    moult: [],
    moultRound: [],
    look: [],
    clutchObservation: [],
    housing: [],
    feeding: [],
    sale: [],
    saleLine: [],
    preyLine: [],
    preyLineVersion: [],
    culture: [],
    harvest: [],
    preyOrder: [],
    preyCount: [],
    otherMouth: [],
    foodLimits: [],
    foodClosedDay: [],
    counter: [],
  }
}

/** Writes everything, parents first; ledger entries in the order of their days, as they would have been recorded. */
export async function writeRows(tx: Tx, rows: Rows): Promise<void> {
  await tx.zone.createMany({ data: rows.zone })
  await tx.zoneSetPoint.createMany({ data: rows.zoneSetPoint })
  await tx.readingBatch.createMany({ data: rows.readingBatch })
  await writeReadings(tx, rows.reading)
  await tx.zoneDay.createMany({ data: rows.zoneDay })
  await tx.zoneWatch.createMany({ data: rows.zoneWatch })
  await tx.zoneWatcher.createMany({ data: rows.zoneWatcher })
  await tx.watchLook.createMany({ data: rows.watchLook })
  await tx.zoneIncident.createMany({ data: rows.zoneIncident })
  await tx.containerKind.createMany({ data: rows.containerKind })
  await tx.benchHours.createMany({ data: rows.benchHours })
  await tx.benchDay.createMany({ data: rows.benchDay })
  await tx.containerKindOrder.createMany({ data: rows.containerKindOrder })
  await tx.container.createMany({ data: rows.container })
  await tx.clutch.createMany({ data: rows.clutch })
  await tx.tray.createMany({ data: rows.tray })
  await tx.colony.createMany({ data: rows.colony })
  await tx.clutchHousing.createMany({ data: rows.clutchHousing })
  await tx.colonyCount.createMany({ data: rows.colonyCount })
  await tx.individual.createMany({ data: rows.individual })
  await tx.eggCase.createMany({ data: rows.eggCase })
  await tx.eggCaseStay.createMany({ data: rows.eggCaseStay })
  await tx.hatch.createMany({ data: rows.hatch })
  await tx.separation.createMany({ data: rows.separation })
  const inOrder = rows.headCountEntry.toSorted((a, b) => Number(a.on) - Number(b.on))
  await tx.headCountEntry.createMany({ data: inOrder })
  await tx.moult.createMany({ data: rows.moult })
  await tx.moultRound.createMany({ data: rows.moultRound })
  await tx.look.createMany({ data: rows.look })
  await tx.clutchObservation.createMany({ data: rows.clutchObservation })
  await tx.housing.createMany({ data: rows.housing })
  await tx.feeding.createMany({ data: rows.feeding })
  await tx.sale.createMany({ data: rows.sale })
  await tx.saleLine.createMany({ data: rows.saleLine })
  await tx.counter.createMany({ data: rows.counter })
}

/** The year on the fly shelf, which names zones and people: after everything else, in a transaction of its own. */
export async function writeFoodRows(tx: Tx, rows: Rows): Promise<void> {
  await tx.preyLine.createMany({ data: rows.preyLine })
  await tx.preyLineVersion.createMany({ data: rows.preyLineVersion })
  await tx.culture.createMany({ data: rows.culture })
  await tx.harvest.createMany({ data: rows.harvest })
  await tx.preyOrder.createMany({ data: rows.preyOrder })
  await tx.preyCount.createMany({ data: rows.preyCount })
  await tx.otherMouth.createMany({ data: rows.otherMouth })
  await tx.foodLimits.createMany({ data: rows.foodLimits })
  await tx.foodClosedDay.createMany({ data: rows.foodClosedDay })
}

/** Thousands of them: as one text that the database takes apart, since to bind each figure would take seconds. */
async function writeReadings(tx: Tx, readings: Rows['reading']): Promise<void> {
  await tx.$executeRaw`
    insert into reading (workspace_id, zone_id, at, temperature_c, humidity_pct, batch_id)
    select r."workspaceId", r."zoneId", r.at, r."temperatureC", r."humidityPct", r."batchId"
    from jsonb_to_recordset(${JSON.stringify(readings)}::jsonb) as r("workspaceId" uuid, "zoneId" uuid,
      at timestamptz, "temperatureC" float8, "humidityPct" float8, "batchId" uuid)`
}
