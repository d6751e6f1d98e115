'use client'

import { useRouter } from 'next/navigation'
import { DialogButton } from '@/components/ui/dialog'
import { FormText, FormTextArea } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { createHandOverAction } from '@/lib/features/hand-over/actions'
import { newHandOverSchema } from '@/lib/features/hand-over/schema'

type Props = { workspace: string; individuals: string[]; onDone: () => void }

/** Offers the ticked animals to another breeder or shop that keeps its records here as well. */
export function HandOver({ workspace, individuals, onDone }: Props) {
  const router = useRouter()
  return (
    <DialogButton label="Hand over" title={`Hand ${individuals.length} over with their records`}>
      {({ close }) => (
        <RecordForm
          name="hand-over"
          schema={newHandOverSchema}
          action={createHandOverAction}
          workspace={workspace}
          defaultValues={{ individuals, toName: '', note: '' }}
          onDone={() => {
            close()
            onDone()
            router.push(`/w/${workspace}/hand-overs`)
          }}
          submitLabel="Offer them"
        >
          <p className="text-small text-soft">
            You get a code to give to the other side. Until they use it the animals stay here and can be sold;
            then they leave these records with theirs written on.
          </p>
          <FormText name="toName" label="For whom" isOptional />
          <FormTextArea name="note" label="Note, for you" isOptional rows={2} />
        </RecordForm>
      )}
    </DialogButton>
  )
}
