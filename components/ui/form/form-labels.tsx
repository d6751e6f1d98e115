'use client'

import { createContext, useContext, useEffect } from 'react'

/** How a field is called and how a value of it is said, so that two versions can be shown side by side. */
export type FieldSpeech = { label: string; say: (value: unknown) => string }

export type FormLabels = Map<string, FieldSpeech>

export const FormLabelsContext = createContext<FormLabels>(new Map())

export function sayPlainly(value: unknown): string {
  if (value === undefined || value === null || value === '') return 'nothing'
  if (value === true) return 'yes'
  if (value === false) return 'no'
  return String(value)
}

/** Makes the words of a field known to its form. */
export function useFieldSpeech(name: string, label: string, say: (value: unknown) => string = sayPlainly) {
  const labels = useContext(FormLabelsContext)
  useEffect(() => {
    labels.set(name, { label, say })
    return () => {
      labels.delete(name)
    }
  }, [labels, name, label, say])
}
