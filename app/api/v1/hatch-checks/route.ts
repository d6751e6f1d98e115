import { loadHatchCheckGround } from '@/lib/features/hatch-check/data'
import { presentHatchCheck } from '@/lib/features/hatch-check/loaders'
import { hatchCheckApi } from '@/lib/features/hatch-check/schema'
import { apiComputedRoute } from '@/lib/platform/api/computed-route'

export const POST = apiComputedRoute(
  hatchCheckApi.create,
  async ({ tx, workspace, body, scope }) => ({
    collected: await loadHatchCheckGround(tx, workspace, body),
    role: scope.role,
  }),
  async ({ collected, role }) => presentHatchCheck(collected, role),
)
