import { buyerApi } from '@/lib/features/buyer/schema'
import { careSheetApi } from '@/lib/features/care-sheet/schema'
import { clearanceApi } from '@/lib/features/clearance/schema'
import { clutchApi } from '@/lib/features/clutch/schema'
import { clutchObservationApi } from '@/lib/features/clutch-observation/schema'
import { colonyApi } from '@/lib/features/colony/schema'
import { containerApi } from '@/lib/features/container/schema'
import { cultureApi } from '@/lib/features/culture/schema'
import { dayListApi } from '@/lib/features/day-sheet/schema'
import { departureApi } from '@/lib/features/departure/schema'
import { dispatchApi } from '@/lib/features/dispatch/schema'
import { eggCaseApi } from '@/lib/features/egg-case/schema'
import { eggCaseSheetApi } from '@/lib/features/egg-case-sheet/schema'
import { feedingApi } from '@/lib/features/feeding/schema'
import { foodDemandApi } from '@/lib/features/food-demand/schema'
import { foodPlanApi } from '@/lib/features/food-plan/schema'
import { handOverApi } from '@/lib/features/hand-over/schema'
import { hatchCheckApi } from '@/lib/features/hatch-check/schema'
import { housingApi } from '@/lib/features/housing/schema'
import { incidentApi } from '@/lib/features/incident/schema'
import { individualApi } from '@/lib/features/individual/schema'
import { lookApi } from '@/lib/features/look/schema'
import { moultApi } from '@/lib/features/moult/schema'
import { orderApi } from '@/lib/features/order/schema'
import { pastWindowApi } from '@/lib/features/past-window/schema'
import { photoApi } from '@/lib/features/photo/schema'
import { preyApi } from '@/lib/features/prey/schema'
import { priceListApi } from '@/lib/features/price-list/schema'
import { readingApi } from '@/lib/features/reading/schema'
import { registerApi } from '@/lib/features/register/schema'
import { reservationApi } from '@/lib/features/reservation/schema'
import { roomForecastApi } from '@/lib/features/room-forecast/schema'
import { saleApi } from '@/lib/features/sale/schema'
import { saleReturnApi } from '@/lib/features/sale-return/schema'
import { separationApi } from '@/lib/features/separation/schema'
import { separationPlanApi } from '@/lib/features/separation-plan/schema'
import { sheetBatchApi } from '@/lib/features/sheet-batch/schema'
import { showBoxApi } from '@/lib/features/show-box/schema'
import { speciesApi } from '@/lib/features/species/schema'
import { trayApi } from '@/lib/features/tray/schema'
import { wishApi } from '@/lib/features/wish/schema'
import { workspaceCopyApi } from '@/lib/features/workspace-copy/schema'
import { zoneApi } from '@/lib/features/zone/schema'
import type { ApiOperation } from '@/lib/platform/api/operation'

/** Every call of the JSON API, as the document and the reference list it; a route without a line here fails a test. */
export const API_OPERATIONS: readonly ApiOperation[] = [
  { list: dayListApi },
  eggCaseApi,
  hatchCheckApi,
  clutchApi,
  clutchObservationApi,
  separationApi,
  separationPlanApi,
  individualApi,
  clearanceApi,
  moultApi,
  trayApi,
  lookApi,
  roomForecastApi,
  pastWindowApi,
  housingApi,
  feedingApi,
  foodPlanApi,
  departureApi,
  handOverApi,
  saleApi,
  saleReturnApi,
  buyerApi,
  priceListApi,
  reservationApi,
  wishApi,
  showBoxApi,
  registerApi,
  orderApi,
  dispatchApi,
  careSheetApi,
  eggCaseSheetApi,
  sheetBatchApi,
  photoApi,
  speciesApi,
  zoneApi,
  readingApi,
  incidentApi,
  containerApi,
  colonyApi,
  preyApi,
  cultureApi,
  foodDemandApi,
  workspaceCopyApi,
].flatMap((feature): ApiOperation[] => Object.values(feature))
