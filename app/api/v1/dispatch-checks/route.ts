import { checkDispatch, loadDispatchQuestion } from '@/lib/features/dispatch/loaders'
import { dispatchApi } from '@/lib/features/dispatch/schema'
import { apiComputedRoute } from '@/lib/platform/api/computed-route'

export const POST = apiComputedRoute(
  dispatchApi.check,
  async ({ tx, workspace, body }) => loadDispatchQuestion(tx, workspace, body),
  async (question) => checkDispatch(question),
)
