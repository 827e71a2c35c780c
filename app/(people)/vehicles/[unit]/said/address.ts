/** Where it stands what was said of a part before the repair that found it failed. */
export const addressOfSaid = (unit: string, repair: string, position: number | null = null): string =>
  `/vehicles/${encodeURIComponent(unit)}/said/${repair}${position === null ? '' : `?position=${position}`}`
