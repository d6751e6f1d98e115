'use client'

import { clsx } from 'clsx'
import type { ReactNode } from 'react'
import { type FieldValues, FormProvider } from 'react-hook-form'
import type { z } from 'zod'
import { Button } from '../button'
import { Notice } from '../notice'
import { FormLabelsContext } from './form-labels'
import { OutcomeNotice } from './outcome-notice'
import { isPresentValues, StaleNotice } from './stale-notice'
import { useRecordForm } from './use-record-form'
import type { Action } from './use-sending'

export type RecordFormProps<T> = {
  /** Unique on its page: what was typed is kept under it while an old page is loaded anew. */
  name: string
  /** The schema of the action. What was typed is sent as it is; the action parses for itself. */
  schema: z.ZodType
  action: Action<T>
  /** Slug of the workspace; empty where there is none yet (signing up). */
  workspace?: string
  /** Also carries what no control shows: the id of the row, its `version`. */
  defaultValues?: FieldValues
  onDone?: (value: T) => void
  /** What the form shows after it was done: emptied for the next entry, or with the new version of the row. */
  nextValues?: (value: T, typed: FieldValues) => FieldValues
  submitLabel: string
  /** `hand` where it has to be done now. */
  submitKind?: 'filled' | 'hand' | 'plain'
  /** Beside the button: a way out. */
  aside?: ReactNode
  className?: string
  children: ReactNode
}

/**
 * The one form of the service. A plain submit handler around the action, never `<form action>`: that throws the
 * page and everything typed away when the connection or the build is gone.
 */
export function RecordForm<T>(props: RecordFormProps<T>) {
  const { submitLabel, submitKind = 'filled', aside, className, children } = props
  const { form, formRef, labels, sending, rootMessages, submit, retry, reload, keepMine, takeTheirs } =
    useRecordForm(props)
  const { outcome, isSending, isSlow } = sending
  const isStale = outcome.kind === 'refused' && isPresentValues(outcome.present)
  return (
    <FormProvider {...form}>
      <FormLabelsContext value={labels}>
        <form
          ref={formRef}
          method="post"
          noValidate
          onSubmit={submit}
          className={clsx('max-w-xl space-y-5', className)}
        >
          {children}
          <div className="scroll-mb-24 space-y-4" data-outcome>
            {rootMessages.map((message) => (
              <Notice key={message} state="late" isAnnounced what={message} />
            ))}
            {isStale && isPresentValues(outcome.present) ? (
              <StaleNotice
                message={outcome.message}
                present={outcome.present}
                typed={form.getValues()}
                labels={labels}
                onKeepMine={keepMine}
                onTakeTheirs={takeTheirs}
              />
            ) : (
              <OutcomeNotice outcome={outcome} onRetry={retry} onReload={reload} />
            )}
          </div>
          <div className="flex flex-wrap items-center gap-3">
            <Button type="submit" kind={submitKind} isBusy={isSending}>
              {isSending ? 'Sending …' : submitLabel}
            </Button>
            {aside}
            <p role="status" className="text-small text-soft">
              {isSlow ? 'This takes longer than usual. Nothing you entered is lost.' : ''}
            </p>
          </div>
        </form>
      </FormLabelsContext>
    </FormProvider>
  )
}
