'use client'

import { useRouter } from 'next/navigation'
import { FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { showToast } from '@/components/ui/toast'
import { takeOverAction } from '@/lib/features/hand-over/actions'
import type { HandOversPage } from '@/lib/features/hand-over/loaders'
import { takeOverSchema } from '@/lib/features/hand-over/schema'

export function TakeAnimalsOver({ workspace, page }: { workspace: string; page: HandOversPage }) {
  const router = useRouter()
  return (
    <RecordForm
      name="take-over"
      schema={takeOverSchema}
      action={takeOverAction}
      workspace={workspace}
      defaultValues={{
        code: '',
        containerKind: page.kinds[0]?.value ?? '',
        zone: page.zones[0]?.value ?? '',
      }}
      onDone={({ ids, from }) => {
        showToast({ what: `${ids.length} ${ids.length === 1 ? 'animal' : 'animals'} from ${from} are here.` })
        router.push(`/w/${workspace}/individuals`)
      }}
      submitLabel="Take them over"
    >
      <FormText name="code" label="Code of the hand-over" autoComplete="off" spellCheck={false} />
      <FormSelect
        name="containerKind"
        label="Into"
        choices={page.kinds}
        hint="A container for each; they get labels of this workspace."
      />
      <FormSelect
        name="zone"
        label="Where"
        choices={page.zones}
        hint="Newcomers stand apart for some weeks: choose a zone in quarantine where you have one."
      />
    </RecordForm>
  )
}
