/** Where a visit is open on the page of the plan. */
export const visitAddress = (id: string) => `/plan?visit=${encodeURIComponent(id)}#visit`
