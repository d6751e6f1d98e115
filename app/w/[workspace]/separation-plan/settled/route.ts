import { loadSettledPlan } from '@/lib/features/separation-plan/loaders'
import { readSliders } from '@/lib/features/separation-plan/schema'

type Props = { params: Promise<{ workspace: string }> }

/**
 * What the program says to hours and containers as the sliders stand; without any, to those that are recorded. A
 * question, so it changes nothing.
 */
export async function GET(request: Request, { params }: Props): Promise<Response> {
  const { workspace } = await params
  const plan = await loadSettledPlan(workspace, readSliders(new URL(request.url).searchParams))
  return Response.json(plan, { headers: { 'cache-control': 'no-store' } })
}
