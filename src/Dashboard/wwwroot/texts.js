// Puts values into the texts that a page's scripts tell, as Fill and PluralText do on the server. The texts of the reader's language come
// before this script, from files beside those of the pages.
"use strict";

const Texts = {
  fill: (text, values = {}) => Object.entries(values).reduce((filled, [name, value]) => filled.replaceAll("{" + name + "}", () => value), text),
  counted: (text, count, values = {}) => Texts.fill(count === 1 ? text.one : text.other, { count, ...values }),
};
