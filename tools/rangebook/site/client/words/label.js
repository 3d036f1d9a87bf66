import { speak } from "../shared/say.js";

export const LABEL = speak({
  "label.missing": "“{number}” is not in the book.",
  "label.scan": "Scan: what fits, what else to order",
  "label.count": { one: "{count} piece", other: "{count} pieces" },
  "label.number": "The code holds the number",
});
