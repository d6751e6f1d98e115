import { formatCode } from '@/lib/domain/label/code'
import { loadBench } from '@/lib/features/separation/loaders'
import { BenchRun } from '../_components/bench-run'

export const metadata = { title: 'Bench' }

type Props = {
  params: Promise<{ workspace: string; id: string; run: string }>
  searchParams: Promise<{ moults?: string }>
}

export default async function BenchRunPage({ params, searchParams }: Props) {
  const { workspace, id, run } = await params
  const { moults } = await searchParams
  const page = await loadBench(workspace, { id, run })
  const seen = moults !== undefined && /^\d{1,2}$/.test(moults) ? Math.min(12, Number(moults)) : undefined
  return (
    <BenchRun
      workspace={workspace}
      workspaceId={page.workspaceId}
      personId={page.personId}
      run={page.run}
      clutch={page.clutch}
      kinds={page.kinds}
      labels={page.labels.map(formatCode)}
      opening={page.opening}
      moults={seen ?? page.likelyMoults}
      deadline={page.deadline}
    />
  )
}
