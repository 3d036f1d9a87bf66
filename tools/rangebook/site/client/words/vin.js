import { speak } from "../shared/say.js";

export const VIN = speak({
  "vin.short": "A VIN has 17 characters.",
  "vin.length": "A VIN has 17 characters, this has {count}: read it once more from the plate.",
  "vin.character": "A VIN has only digits and letters, and “{character}” in place {place} is neither.",
  "vin.letter": "The letters I, O and Q never stand in a VIN; place {place} has {character}: it will be {instead}.",
  "vin.check_digit":
    "The check digit does not agree: place 9 has {character} and the others come to {instead}. One of the characters was read or typed wrongly; or the vehicle was not built for North America, where place 9 need not be a check digit: then take the year from its papers.",
  "vin.year_code": "Place 10 has {character}, which stands for no model year: take the year from the papers.",
  "vin.certain": "Model year {year}: the check digit agrees, and place 10 has {character}.",
  "vin.later":
    "Model year {year}: the check digit agrees, place 10 has {character}, and place 7 has a letter. That it is not {other} is inferred from place 7 and holds for cars and light trucks, up to 10,000 lb.",
  "vin.either":
    "Model year {year} or {other}: the check digit agrees, and place 10 has {character}. Place 7 has a digit: a car or a light truck, up to 10,000 lb, is then {year}; a heavier one can be either.",
});
