/** Why an interlock is to be proved again after a change. */
export const SCOPE = {
  'scope-line': 'Its own rule was named ({name}).',
  'scope-depends-on': 'It depends on {name}.',
  'scope-tag': 'It rests on the tag {name}.',
  'scope-rule': '{what} was {was}, and becomes {becomes}.',
  'scope-shares': 'It shares {name} with {other}.',
  'scope-same-sensor': 'It rests on the same sensor as {other} ({name}).',
  'scope-same-effect': 'It brings about the same effect as {other} ({name}).',
  'scope-cascade': 'Its machine stops with that of {other} ({machine}).',
  'scope-control': 'Nobody touched it; it was proved longest ago among those.',
  'scope-all': 'Nothing of the old controller can be taken for granted.',
} as const;
