'use client'

import { type FormEvent, useId, useState } from 'react'
import { Button } from '@/components/ui/button'
import { CONTROL_STYLE, describeField, FieldFrame } from '@/components/ui/field-frame'
import { Notice } from '@/components/ui/notice'
import { TextField } from '@/components/ui/text-field'
import { suggestSlug } from '@/lib/features/workspace/schema'
import type { Restored } from '@/lib/features/workspace-copy/schema'
import type { ActionResult } from '@/lib/platform/action-result'

type Said = Exclude<ActionResult<Restored>, { status: 'done' }> | { status: 'no-answer' }

/** Sends the file as it is. What was typed and chosen stays, whatever the answer is. */
async function send(
  file: File,
  place: { name: string; slug: string },
): Promise<ActionResult<Restored> | Said> {
  try {
    const query = new URLSearchParams(place)
    const answer = await fetch(`/workspaces/restore/file?${query}`, { method: 'POST', body: file })
    return await answer.json()
  } catch {
    return { status: 'no-answer' }
  }
}

export function RestoreForm() {
  const [place, setPlace] = useState({ name: '', slug: '' })
  const [file, setFile] = useState<File | null>(null)
  const [isSending, setIsSending] = useState(false)
  const [said, setSaid] = useState<Said | null>(null)
  const errorOf = (path: string) =>
    said?.status === 'refused' ? said.fields?.find((field) => field.path === path)?.message : undefined

  const submit = async (event: FormEvent) => {
    event.preventDefault()
    if (isSending) return
    if (!file) return setSaid({ status: 'refused', code: 'invalid', message: 'Choose the file first.' })
    setIsSending(true)
    setSaid(null)
    const answer = await send(file, place)
    setIsSending(false)
    if (answer.status === 'done') window.location.assign(`/w/${answer.value.workspace}`)
    else setSaid(answer)
  }

  return (
    <form onSubmit={submit} noValidate className="max-w-xl space-y-4 pt-4">
      {said ? <Answer said={said} /> : null}
      <FileField file={file} onChoose={setFile} />
      <TextField
        label="Name"
        value={place.name}
        error={errorOf('name')}
        onChange={({ target }) => setPlace({ name: target.value, slug: suggestSlug(target.value) })}
      />
      <TextField
        label="Address"
        value={place.slug}
        error={errorOf('slug')}
        hint="The last part of its pages’ address. It has to be one that no workspace has or had."
        onChange={({ target }) => setPlace({ ...place, slug: target.value })}
      />
      <Button type="submit" kind="filled" isBusy={isSending}>
        {isSending ? 'Sending and comparing …' : 'Make the workspace'}
      </Button>
    </form>
  )
}

function FileField({ file, onChoose }: { file: File | null; onChoose: (file: File | null) => void }) {
  const id = useId()
  const size = file ? `${(file.size / 1024 / 1024).toFixed(1)} MB` : 'At most 256 MB.'
  const words = { label: 'File', hint: size }
  return (
    <FieldFrame id={id} words={words}>
      <input
        type="file"
        accept=".zip,application/zip"
        className={CONTROL_STYLE}
        {...describeField(id, words)}
        onChange={({ target }) => onChoose(target.files?.[0] ?? null)}
      />
    </FieldFrame>
  )
}

const KEPT = 'What you entered is still here.'

function Answer({ said }: { said: Said }) {
  switch (said.status) {
    case 'refused':
      return <Notice state="due" isAnnounced what={said.message} why={KEPT} />
    case 'signed-out':
      return (
        <Notice
          state="due"
          isAnnounced
          what="You have been signed out."
          why={`${KEPT} Sign in in another window, then press the button again.`}
        />
      )
    case 'failed':
      return (
        <Notice
          state="late"
          isAnnounced
          what="Something went wrong on our side. Nothing of the file was taken in."
          why={`${KEPT} If it stays so, tell whoever runs the service this reference: ${said.reference}`}
        />
      )
    default:
      return (
        <Notice
          state="due"
          isAnnounced
          what="There was no answer."
          why={`${KEPT} Look under “Your workspaces” whether it is there already before you try again.`}
        />
      )
  }
}
