'use client'

import { type SyntheticEvent, useEffect, useMemo, useRef, useState } from 'react'
import { type FieldErrors, type FieldValues, useForm } from 'react-hook-form'
import type { ActionResult } from '@/lib/platform/action-result'
import { showToast } from '../toast'
import { storeDraft, takeDraft } from './draft'
import { dropEmpty, resolveWith } from './form-input'
import type { FormLabels } from './form-labels'
import { focusFirstMistake, listControls, refuseHalfTyped } from './half-typed'
import type { RecordFormProps } from './record-form'
import { isPresentValues } from './stale-notice'
import { useSending } from './use-sending'

type Refused = Extract<ActionResult<unknown>, { status: 'refused' }>

/** Messages about something no control shows (a hidden version, the whole): they must be said all the same. */
function listRootMessages(errors: FieldErrors<FieldValues>, labels: FormLabels): string[] {
  return Object.entries(errors).flatMap(([name, error]) => {
    const isShown = [...labels.keys()].some((label) => label === name || label.startsWith(`${name}.`))
    return !isShown && typeof error?.message === 'string' ? [error.message] : []
  })
}

export function useRecordForm<T>(props: RecordFormProps<T>) {
  const { name, schema, action, workspace = '', defaultValues, onDone, nextValues } = props
  const formRef = useRef<HTMLFormElement>(null)
  const [labels] = useState<FormLabels>(() => new Map())
  const resolver = useMemo(() => refuseHalfTyped(() => formRef.current, resolveWith(schema)), [schema])
  const form = useForm<FieldValues>({ resolver, defaultValues, shouldFocusError: false })
  const sending = useSending<T>({ action, workspace })
  const { errors } = form.formState

  const { reset } = form
  const { takeOperationId } = sending
  // biome-ignore lint/correctness/useExhaustiveDependencies: a draft is taken up once, when the form opens
  useEffect(() => {
    const draft = takeDraft(name)
    if (draft === undefined) return
    takeOperationId(draft.operationId)
    reset({ ...defaultValues, ...draft.values }, { keepDefaultValues: true })
  }, [])

  /** After the next paint, when the mistakes stand at their fields. */
  function pointOut() {
    requestAnimationFrame(() => {
      focusFirstMistake(formRef.current)
      const hasMistake = formRef.current?.querySelector('[aria-invalid="true"]') != null
      if (!hasMistake) formRef.current?.querySelector('[data-outcome]')?.scrollIntoView({ block: 'nearest' })
    })
  }

  function showRefusal(refused: Refused) {
    for (const { path, message } of refused.fields ?? []) {
      form.setError(path === '' ? 'root' : path, { type: 'server', message })
    }
  }

  async function sendTyped(typed: FieldValues) {
    const sent = await sending.send(dropEmpty(typed))
    if (sent?.result?.status === 'refused') showRefusal(sent.result)
    if (sent !== undefined && sent.result?.status !== 'done') return pointOut()
    if (sent?.result?.status !== 'done') return
    for (const warning of sent.result.warnings ?? []) showToast({ what: warning.message })
    if (nextValues) form.reset(nextValues(sent.result.value, typed))
    onDone?.(sent.result.value)
  }

  const handle = form.handleSubmit(sendTyped, pointOut)
  function submit(event?: SyntheticEvent) {
    // A form in a dialog is a child of the page's form for React, though not in the document.
    event?.stopPropagation()
    return handle(event)
  }

  /** From a button or a dialog that vanishes with the sending: the focus goes on to the button that stays. */
  async function retry() {
    const stays = formRef.current?.querySelector<HTMLButtonElement>('button[type="submit"]')
    stays?.focus()
    await submit()
    setTimeout(() => {
      if (document.activeElement === document.body) stays?.focus()
    }, 50)
  }

  function reload() {
    const secretNames = listControls(formRef.current)
      .filter((control) => control.type === 'password')
      .map((control) => control.name)
    storeDraft(name, { operationId: sending.getOperationId(), values: form.getValues() }, secretNames)
    window.location.reload()
  }

  function getPresent() {
    const { outcome } = sending
    return outcome.kind === 'refused' && isPresentValues(outcome.present) ? outcome.present : {}
  }

  return {
    form,
    formRef,
    labels,
    sending,
    rootMessages: listRootMessages(errors, labels),
    submit,
    retry,
    reload,
    /** What was typed, on top of what the others saved. */
    keepMine: () => {
      const { version } = getPresent()
      if (version !== undefined) form.setValue('version', version)
      void retry()
    },
    takeTheirs: () => {
      form.reset({ ...form.getValues(), ...getPresent() })
      sending.clear()
    },
  }
}
