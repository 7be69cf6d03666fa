/**
 * Written and spoken quantities as public test suites of general-purpose readers hold them, re-expressed as facts: what is
 * said and what it is worth. Cases with units that this trade does not use (miles, gallons, cups, millions) are left out.
 * Sources, as stored at the commits named:
 * - R: Microsoft Recognizers-Text, Specs/NumberWithUnit/English/DimensionModel.json (119f82c)
 * - D: Duckling, Duckling/Distance/EN/Corpus.hs (2867ea9)
 * - N: Duckling, Duckling/Numeral/EN/Corpus.hs (181037e)
 * - Q: Duckling, Duckling/Quantity/EN/Corpus.hs (2867ea9)
 * Inch 25.4 mm, foot 304.8 mm, pound 453.59237 g, ounce 28.349523125 g by definition.
 */
import { describe, expect, it } from "vitest";
import { quantityAt } from "../../src/language/quantities.js";
import { normalise } from "../../src/language/text.js";
import { tokenise } from "../../src/language/tokens.js";

const INCH = 25.4;
const FOOT = 304.8;
const POUND = 453.59237;
const OUNCE = 28.349523125;
const HINTS = { inchChat: false, holding: false, press: false };

const CASES: readonly (readonly [string, string, number, string | undefined])[] = [
  ["R", "200lbs", 200 * POUND, "mass"],
  ["R", "3-inch", 3 * INCH, "length"],
  ["R", "two feet", 2 * FOOT, "length"],
  ["R", "68-ounce", 68 * OUNCE, "mass"],
  ["R", "10 feet", 10 * FOOT, "length"],
  ["R", "two pounds", 2 * POUND, "mass"],
  ["R", "25 pounds", 25 * POUND, "mass"],
  ["R", "three-foot", 3 * FOOT, "length"],
  ["R", "six feet", 6 * FOOT, "length"],
  ["R", "100 meters", 100_000, "length"],
  ["R", "5 feet", 5 * FOOT, "length"],
  ["R", "4 inches", 4 * INCH, "length"],
  ["R", "776-foot", 776 * FOOT, "length"],
  ["D", "2cm", 20, "length"],
  ["D", "2 centimeters", 20, "length"],
  ["D", "5 in", 5 * INCH, "length"],
  ["D", "5''", 5 * INCH, "length"],
  ["D", "five inches", 5 * INCH, "length"],
  ["D", '5"', 5 * INCH, "length"],
  ["D", "1.87 meters", 1870, "length"],
  ["D", "7 feet and 10 inches", 94 * INCH, "length"],
  ["D", "7 feet, 10 inches", 94 * INCH, "length"],
  ["D", "7 feet 10 inches", 94 * INCH, "length"],
  ["N", "0", 0, undefined],
  ["N", "naught", 0, undefined],
  ["N", "nought", 0, undefined],
  ["N", "zero", 0, undefined],
  ["N", "1", 1, undefined],
  ["N", "one", 1, undefined],
  ["N", "2", 2, undefined],
  ["N", "two", 2, undefined],
  ["N", "a couple", 2, undefined],
  ["N", "a couple of", 2, undefined],
  ["N", "3", 3, undefined],
  ["N", "three", 3, undefined],
  ["N", "10", 10, undefined],
  ["N", "ten", 10, undefined],
  ["N", "12", 12, undefined],
  ["N", "twelve", 12, undefined],
  ["N", "fourteen", 14, undefined],
  ["N", "sixteen", 16, undefined],
  ["N", "seventeen", 17, undefined],
  ["N", "eighteen", 18, undefined],
  ["N", "33", 33, undefined],
  ["N", "thirty three", 33, undefined],
  ["N", "0033", 33, undefined],
  ["N", "1.1", 1.1, undefined],
  ["N", "1.10", 1.1, undefined],
  ["N", "01.10", 1.1, undefined],
  ["N", ".77", 0.77, undefined],
  ["N", "0.77", 0.77, undefined],
  ["N", "100,000", 100_000, undefined],
  ["N", "100,000.0", 100_000, undefined],
  ["N", "100000", 100_000, undefined],
  ["N", "1/5", 0.2, undefined],
  ["N", "2/10", 0.2, undefined],
  ["N", "five thousand", 5000, undefined],
  ["N", "one twenty two", 122, undefined],
  ["N", "ONE TwentY tWO", 122, undefined],
  ["N", "twenty-one thousand Eleven", 21_011, undefined],
  ["N", "1,200,000", 1_200_000, undefined],
  ["Q", "two pounds", 2 * POUND, "mass"],
  ["Q", "2 grams", 2, "mass"],
  ["Q", "0.002 kg", 2, "mass"],
  ["Q", "a kilogram", 1000, "mass"],
  ["Q", "a Pound", POUND, "mass"],
  ["Q", "1 lb", POUND, "mass"],
  ["Q", "2 ounces", 2 * OUNCE, "mass"],
  ["Q", "2oz", 2 * OUNCE, "mass"],
  ["Q", "500 grams", 500, "mass"],
  ["Q", "500g", 500, "mass"],
  ["Q", "0.5 kilograms", 500, "mass"],
  ["Q", "four ounces", 4 * OUNCE, "mass"],
];

describe("quantities of public suites", () => {
  it.each(CASES)("%s: %s", (_source, said, value, dimension) => {
    const tokens = tokenise(normalise(said));
    const found = quantityAt(tokens, 0, HINTS);
    expect(found?.value).toBeCloseTo(value, 6);
    expect(found?.dimension).toBe(dimension);
    // Nothing of it is left over.
    expect(found?.to).toBe(tokens.length);
  });
});
