'use client'

import { type ReactNode, useCallback } from 'react'
import { type SignInProps, SignInSlotProvider } from '../ui/form/sign-in-slot'
import { SignInAgain } from './sign-in-again'

/** Gives every form below it the dialog, with the address of whoever was signed in. */
export function SignInAgainProvider({ email, children }: { email: string; children: ReactNode }) {
  const dialog = useCallback((props: SignInProps) => <SignInAgain {...props} email={email} />, [email])
  return <SignInSlotProvider dialog={dialog}>{children}</SignInSlotProvider>
}
