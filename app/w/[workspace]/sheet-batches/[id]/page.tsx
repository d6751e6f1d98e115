import { PageHeader } from '@/components/ui/page-header'
import { loadSheetBatchPage } from '@/lib/features/sheet-batch/loaders'
import { BatchFiles } from './_components/batch-files'
import { BatchProgress } from './_components/batch-progress'

export const metadata = { title: 'Care sheets' }

type Props = { params: Promise<{ workspace: string; id: string }> }

/** Many care sheets at once: how far they are, and the files to print. */
export default async function SheetBatchPage({ params }: Props) {
  const { workspace, id } = await params
  const batch = await loadSheetBatchPage(workspace, id)
  return (
    <>
      <PageHeader
        parent={{ href: `/w/${workspace}/individuals`, label: 'Animals' }}
        title={`${batch.total} care sheets`}
        facts="You can leave this page; they are set meanwhile."
      />
      <BatchProgress workspace={workspace} batch={batch} />
      <BatchFiles workspace={workspace} batch={batch} />
    </>
  )
}
