import { redirect } from 'next/navigation'
import { loadLabelAddress } from '@/lib/features/label/loaders'

type Props = { params: Promise<{ workspace: string; code: string }> }

/** What a scanned or typed label leads to. */
export default async function LabelPage({ params }: Props) {
  const { workspace, code } = await params
  redirect(await loadLabelAddress(workspace, code))
}
