import { forecastCollectedRoom } from '@/lib/features/room-forecast/data'
import { loadCollectedRoom, presentRoomForecast } from '@/lib/features/room-forecast/loaders'
import { roomForecastApi } from '@/lib/features/room-forecast/schema'
import { apiComputedRoute } from '@/lib/platform/api/computed-route'
import { runInPieces } from '@/lib/platform/in-pieces'

export const GET = apiComputedRoute(
  roomForecastApi.load,
  ({ tx, workspace, query }) => loadCollectedRoom(tx, workspace, query),
  async (collected) =>
    presentRoomForecast(
      await runInPieces(forecastCollectedRoom(collected.workspace, collected.room)),
      collected,
    ),
)
