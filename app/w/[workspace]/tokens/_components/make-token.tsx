'use client'

import { useState } from 'react'
import { ROLE_CHOICES } from '@/components/person/role-choices'
import { Button } from '@/components/ui/button'
import { CopyButton } from '@/components/ui/copy-button'
import { DialogButton } from '@/components/ui/dialog'
import { FormRadio, FormSelect, FormText } from '@/components/ui/form/form-field'
import { RecordForm } from '@/components/ui/form/record-form'
import { useDone } from '@/components/ui/form/use-done'
import { Notice } from '@/components/ui/notice'
import { createApiTokenAction } from '@/lib/features/api-token/actions'
import { createApiTokenSchema, TOKEN_DAYS } from '@/lib/features/api-token/schema'

const DAYS = TOKEN_DAYS.map((days) => ({ value: String(days), label: `${days} days` }))
type Made = { token: string | null }

export function MakeToken({ workspace }: { workspace: string }) {
  return (
    <DialogButton label="Make a token" kind="filled" title="Make a token">
      {({ close }) => <MakeTokenForm workspace={workspace} onClose={close} />}
    </DialogButton>
  )
}

function MakeTokenForm({ workspace, onClose }: { workspace: string; onClose: () => void }) {
  const done = useDone()
  const [made, setMade] = useState<Made>()
  if (made)
    return (
      <NewToken
        made={made}
        onClose={() => {
          onClose()
          done('The token works.')
        }}
      />
    )
  return (
    <RecordForm
      name="make-token"
      schema={createApiTokenSchema}
      action={createApiTokenAction}
      workspace={workspace}
      defaultValues={{ name: '', role: 'counter', days: '365' }}
      onDone={setMade}
      submitLabel="Make it"
    >
      <FormText
        name="name"
        label="What it is for"
        hint="The till, the web shop, the sensor on the warm shelf."
      />
      <FormRadio name="role" label="Acts as" choices={ROLE_CHOICES} />
      <FormSelect name="days" label="Works for" choices={DAYS} />
    </RecordForm>
  )
}

function NewToken({ made, onClose }: { made: Made; onClose: () => void }) {
  if (made.token === null)
    return (
      <Notice
        state="due"
        isAnnounced
        what="A token was made, but its answer was lost on the way."
        why="It cannot be shown a second time. Revoke it in the list and make another one."
        next={<Button onClick={onClose}>To the list</Button>}
      />
    )
  return (
    <div className="space-y-4">
      <Notice
        state="fine"
        isAnnounced
        what="Copy the token now."
        why="It is shown this once. The service keeps only its fingerprint."
      />
      <p className="select-all break-all border border-edge bg-sheet p-3 font-semibold">{made.token}</p>
      <div className="flex flex-wrap gap-3">
        <Button kind="filled" onClick={onClose}>
          I have it
        </Button>
        <CopyButton text={made.token} label="Copy it" />
      </div>
    </div>
  )
}
