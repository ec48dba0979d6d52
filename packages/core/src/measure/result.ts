/** What a step found, or why it could not. Both are answers. */
export type Result<T, Reason extends { readonly kind: string }> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly reason: Reason };

export function found<T>(value: T): { readonly ok: true; readonly value: T } {
  return { ok: true, value };
}

export function refused<Reason extends { readonly kind: string }>(
  reason: Reason,
): { readonly ok: false; readonly reason: Reason } {
  return { ok: false, reason };
}
