/** Parts of sentences without a word: figures, units and signs, the same in every language. */
export const FORMULAS = {
  'level-absolute': '{level:unit}',
  'level-plus': '{level} + {step:step}',
  'level-minus': '{level} − {step:step}',
  'level-known': '{level} ({value:band})',
  'value-plain': '{value}',
  'value-seconds': '{value:seconds}',
  'value-percent': '{value} %',
  'value-around': '{level} ± {tolerance}',
  'value-list': '{parts}',
  'value-conditions': '{conditions:all}',
  'effect-becomes': '{state}',
  'as-written': '{text}',
  'band-alone': '{allowed:band}',
  'band-of-sum': '{middle} ± {half:unit} = {allowed:band}',
  'between-seconds': '{allowed:band-s}',
  'drawn-in':
    '{low:short} + {guard:short} = {lowMoved:short} … {high:short} − {guard:short} = {highMoved:short-unit}',
  'drawn-in-low': '{low:short} + {guard:short} = {lowMoved:short-unit}',
  'moved-out':
    '{low:short} − {guard:short} = {lowMoved:short} … {high:short} + {guard:short} = {highMoved:short-unit}',
  'moved-out-low': '{low:short} − {guard:short} = {lowMoved:short-unit}',
} as const;
