/** What somebody may be in an organisation, the one with the most rights first. */
export const ROLES = ['owner', 'planner', 'technician', 'reader'] as const
export type Role = (typeof ROLES)[number]
