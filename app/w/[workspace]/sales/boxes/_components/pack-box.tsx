'use client'

import { useRouter } from 'next/navigation'
import { DialogButton } from '@/components/ui/dialog'
import { FormCheckbox, FormDate, FormNumber, FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { addDays } from '@/lib/domain/calendar/date'
import { createShowBoxAction } from '@/lib/features/show-box/actions'
import type { ShowBoxesPage } from '@/lib/features/show-box/loaders'
import { newShowBoxFormSchema } from '@/lib/features/show-box/schema'
import { LANGUAGE_NAMES, LANGUAGES } from '@/lib/messages/language'

type Props = { workspace: string; page: Pick<ShowBoxesPage, 'species' | 'today' | 'language'> }

const DEVICES = ['1', '2', '3', '4'].map((value) => ({
  value,
  label: value === '1' ? 'One device sells everything' : `${value} devices, a part for each`,
}))

export function PackBox({ workspace, page }: Props) {
  const router = useRouter()
  return (
    <DialogButton label="Pack a box" kind="filled" title="Pack a show box">
      {({ close }) => (
        <RecordForm
          name="show-box"
          schema={newShowBoxFormSchema}
          action={createShowBoxAction}
          workspace={workspace}
          defaultValues={{
            ...{ name: '', packOn: addDays(page.today, 1), returnOn: addDays(page.today, 2), count: 20 },
            ...{ devices: '1', languages: { [page.language]: true } },
          }}
          onDone={({ id }) => {
            close()
            router.push(`/w/${workspace}/sales/boxes/${id}`)
          }}
          submitLabel="Choose the animals"
        >
          <FormText name="name" label="Which show" placeholder="Autumn fair, hall 2" />
          <FormDate name="packOn" label="Packed on" />
          <FormDate
            name="returnOn"
            label="Back on"
            hint="Chosen are animals that will most probably not moult on any day between."
          />
          <FormNumber name="count" label="How many animals" isWhole className="max-w-24" />
          <FormSelect
            name="species"
            label="Species"
            isOptional
            placeholder="all, by turns"
            choices={page.species}
          />
          <FormSelect
            name="devices"
            label="Who sells there"
            choices={DEVICES}
            hint="Each part has its own series of receipts and is sold from by one device."
          />
          <fieldset>
            <legend className="font-semibold text-small">Languages of sheets and stand cards</legend>
            {LANGUAGES.map((language) => (
              <FormCheckbox key={language} name={`languages.${language}`} label={LANGUAGE_NAMES[language]} />
            ))}
          </fieldset>
        </RecordForm>
      )}
    </DialogButton>
  )
}
