import {
  collectRoomForecast,
  computeRoomForecast,
  presentRoomForecast,
} from '@/lib/features/room-forecast/loaders'
import { roomForecastApi } from '@/lib/features/room-forecast/schema'
import { apiComputedRoute } from '@/lib/platform/api/computed-route'

export const GET = apiComputedRoute(
  roomForecastApi.load,
  ({ tx, workspace, query }) => collectRoomForecast(tx, workspace, query),
  async (collected) => presentRoomForecast(await computeRoomForecast(collected), collected),
)
