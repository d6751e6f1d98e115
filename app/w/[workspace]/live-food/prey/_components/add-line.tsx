'use client'

import { useRouter } from 'next/navigation'
import { DialogButton } from '@/components/ui/dialog'
import { FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { createPreyLineAction } from '@/lib/features/prey/actions'
import { createPreyLineSchema } from '@/lib/features/prey/schema'

type Props = { workspace: string; models: { value: string; label: string }[] }

export function AddLine({ workspace, models }: Props) {
  const router = useRouter()
  return (
    <DialogButton label="Add a line" kind="filled" title="Add a line of your own">
      <RecordForm
        name="add-line"
        schema={createPreyLineSchema}
        action={createPreyLineAction}
        workspace={workspace}
        defaultValues={{}}
        onDone={({ slug }) => router.push(`/w/${workspace}/live-food/prey/${slug}`)}
        submitLabel="Add it"
      >
        <FormText name="name" label="Name" />
        <FormSelect
          name="like"
          label="Most like"
          choices={models}
          placeholder="Choose"
          hint="Its figures are taken over as your own, to be changed one by one."
        />
      </RecordForm>
    </DialogButton>
  )
}
