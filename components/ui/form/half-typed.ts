import type { FieldValues, Resolver } from 'react-hook-form'
import { type FieldMessage, nestMessages } from './form-input'

type Control = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement

function isControl(element: Element): element is Control {
  return (
    element instanceof HTMLInputElement ||
    element instanceof HTMLSelectElement ||
    element instanceof HTMLTextAreaElement
  )
}

export function listControls(form: HTMLFormElement | null): Control[] {
  return form ? [...form.elements].filter(isControl).filter((control) => control.name !== '') : []
}

/**
 * A date typed in part, or one that does not exist (31 February), has an empty value: only the browser knows
 * that something stands there. Without this an optional date would be dropped in silence.
 */
function listHalfTyped(form: HTMLFormElement | null): FieldMessage[] {
  return listControls(form)
    .filter((control) => control.validity.badInput)
    .map((control) => ({ path: control.name, message: 'This day is not complete or does not exist.' }))
}

export function refuseHalfTyped(getForm: () => HTMLFormElement | null, resolver: Resolver<FieldValues>) {
  const refusing: Resolver<FieldValues> = async (values, context, options) => {
    const resolved = await resolver(values, context, options)
    const halfTyped = listHalfTyped(getForm())
    if (halfTyped.length === 0) return resolved
    return { values: {}, errors: { ...resolved.errors, ...nestMessages(halfTyped) } }
  }
  return refusing
}

/** The first control with a mistake, in the order of the page. */
export function focusFirstMistake(form: HTMLFormElement | null): void {
  const first = listControls(form).find((control) => control.getAttribute('aria-invalid') === 'true')
  first?.focus()
}
