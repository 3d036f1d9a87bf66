// The messages that are said in more than one room, in English; the others stand beside this file, by their rooms.
//
// Names in braces are put in. Where a message goes by a number it is a message for each form that the language has (Unicode's plural
// rules), and the number is `count`. Ids stay as they are: another language is a folder with the same files and ids, put in the place of
// this one when the site is built.

/** The language by its tag (BCP 47): British, as the rest of the book is written. */
export const LANGUAGE = "en-GB";

export const SHARED = /** @type {const} */ ({
  "sentence": "{text}.",
  "more.plain": "and {count} more",
  "count.parts": { one: "{count} part", other: "{count} parts" },
  "count.families": { one: "{count} family", other: "{count} families" },
  "count.numbers": { one: "{count} number", other: "{count} numbers" },
  "count.lines": { one: "{count} vehicle line", other: "{count} vehicle lines" },
  "count.more_vehicles": { one: "and {count} more vehicle", other: "and {count} more vehicles" },
  "pair": "{a} – {b}",
  "load.again": "Try again",
  "load.failed": "The book could not be loaded. Is there a connection?",
  "load.failed.short": "The book could not be loaded.",
  "part.housing": "housing",
  "part.others": "all others",
  "part.pin": "pin {name}",
  "part.nearest": "The nearest numbers in it: {numbers}",
  "part.colour.none": "colour not stated",
  "part.what_fits": "What fits in its place",
  "answer.row.nothing": "nothing sold today is known to fit",
  "answer.status": " ({status})",
  "answer.order.title": "{title}. ",
  "shelf.on": "{count} on the shelf",
  "shelf.on.at": "{count} on the shelf, {place}",
  "answer.link.job": "Job sheet",
  "answer.link.prove": "Prove it",
  "answer.link.lever": "Slide the lever",
  "answer.link.record": "Fitted {number} here? Write down what came of it",
  "answer.link.compare": "Lay it over {number}, wire by wire",
  "find.missing": "“{number}” is not in the book",
  "vehicles.years": "{year} or {other}",
  "prove.power": "Under power",
  "code.label": "QR code: {says}",
  "code.back": "Back to the answer",
  "code.holds": "Holds {says}",
  "offline.all": "The whole book is on this device and works without a connection.",
  "offline.answers": "On this device, for the time without a connection: the find box and every answer; {left} other pages and pictures once you have opened them.",
  "offline.some": "On this device, for the time without a connection: the find box and {families} of {of} switch families; other pages once you have opened them.",
  "offline.coming": "Being put on this device, for the time without a connection …",
  "offline.not": "The book could not be put on this device: it needs a connection.",
  "offline.no_https": "Here the book needs a connection: a browser keeps it on the device only if it comes by https.",
});
