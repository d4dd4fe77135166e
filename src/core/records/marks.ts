/** 1 σ of meeting a mark where the person states none, degrees: what a scribed line can be read to. Common practice, no source. */
export const MARK_SIGMA_DEG = 0.1
