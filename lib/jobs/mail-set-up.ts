/** The variables of the environment without which no mail goes out. */
export const MAIL_VARIABLES = ['SMTP_URL', 'MAIL_FROM', 'PUBLIC_ADDRESS'] as const

/** Those of them that are not set. */
export const missingForMail = (variables: Record<string, string | undefined>): string[] =>
  MAIL_VARIABLES.filter((name) => !variables[name]?.trim())
