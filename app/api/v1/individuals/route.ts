import { loadIndividualAnswer, loadIndividualAnswers } from '@/lib/features/individual/loaders'
import { createIndividuals } from '@/lib/features/individual/mutations'
import { individualApi } from '@/lib/features/individual/schema'
import { apiRoute } from '@/lib/platform/api/route'
import { invariant } from '@/lib/platform/errors'

export const GET = apiRoute(individualApi.list, ({ tx, workspace, query }) =>
  loadIndividualAnswers(tx, workspace, query),
)

export const POST = apiRoute(individualApi.create, async ({ tx, scope, workspace, body }) => {
  const { value, warnings } = await createIndividuals(tx, { scope, workspace }, { animal: body, count: 1 })
  const [made] = value
  invariant(made, 'one animal was made')
  return { ...(await loadIndividualAnswer(tx, workspace, made.id)), warnings }
})
