'use client'

import { FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { changeSlugAction } from '@/lib/features/workspace/actions'
import { changeSlugSchema } from '@/lib/features/workspace/schema'

type Props = { workspace: string; slug: string; version: number }

export function AddressForm({ workspace, slug, version }: Props) {
  return (
    <RecordForm
      // The other form raises the version; a form that stayed as it was would be refused as stale.
      key={version}
      name="address"
      schema={changeSlugSchema}
      action={changeSlugAction}
      workspace={workspace}
      defaultValues={{ slug, version }}
      onDone={(value) => window.location.assign(`/w/${value.slug}/settings`)}
      submitLabel="Change the address"
      submitKind="plain"
    >
      <FormText name="slug" label="Last part of the address" hint="Small letters, figures and hyphens." />
    </RecordForm>
  )
}
