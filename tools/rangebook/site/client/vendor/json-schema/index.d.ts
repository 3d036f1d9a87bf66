// What of these scripts is used here. Beside them, so that they are not looked through for types themselves.

/** One thing that a schema has against a value: which keyword, where in the value, and in words. */
export interface OutputUnit {
  keyword: string;
  instanceLocation: string;
  error: string;
}

export class Validator {
  constructor(schema: object, draft?: "2020-12", shortCircuit?: boolean);
  addSchema(schema: object): void;
  validate(value: unknown): { valid: boolean; errors: OutputUnit[] };
}
