import { notFound } from 'next/navigation'
import { loadRegisterFile, REGISTER_FILES } from '@/lib/features/register/loaders'
import { csvResponse } from '@/lib/platform/csv-response'

type Context = { params: Promise<{ workspace: string; file: string }> }

/** `animals.csv`, `egg-cases.csv`, `movements.csv` and the others of a period. */
export async function GET(request: Request, { params }: Context): Promise<Response> {
  const { workspace, file: asked } = await params
  const file = REGISTER_FILES.find((each) => asked === `${each}.csv`)
  if (!file) notFound()
  const query = new URL(request.url).searchParams
  const { text, name } = await loadRegisterFile(workspace, {
    file,
    from: query.get('from') ?? undefined,
    until: query.get('until') ?? undefined,
    hasBuyers: query.get('buyers') === 'yes',
  })
  return csvResponse(text, name)
}
