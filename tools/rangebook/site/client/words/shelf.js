import { speak } from "../shared/say.js";

export const SHELF = speak({
  "shelf.read": { one: "{count} number of the book on the shelf", other: "{count} numbers of the book on the shelf" },
  "shelf.missing": { one: "{count} that the book does not have", other: "{count} that the book does not have" },
  "shelf.own": "The list on this device",
  "shelf.of_book": "The book's own list",
  "shelf.none": "No list is kept on this device, and the book has none.",
  "shelf.kept": "Kept on this device.",
  "shelf.not_kept": "This browser keeps nothing: the list is gone when the page is left.",
  "shelf.forget": "Forget the list",
  "shelf.too_large": "The file is larger than 1 MB: that is no stock list.",
  "shelf.unknown": "Not in the book",
  "shelf.times": "{count} ×",
  "shelf.vehicles.none": "No vehicle in the book has all of that.",
  "shelf.vehicles.more": "And {count} more: type more of it.",
  "shelf.no_seat": "Its plug or its part is not in the book: nothing can be said yet.",
  "shelf.not_candidates": "Of all else on the shelf nothing is known that could go there.",
});
