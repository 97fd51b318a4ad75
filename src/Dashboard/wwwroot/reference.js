// Shows the contract by the library of the reference, which comes from this service like everything else.
"use strict";

(() => {
  const place = document.getElementById("reference");
  place.replaceChildren();
  SwaggerUIBundle({
    url: place.dataset.contract,
    domNode: place,
    presets: [SwaggerUIBundle.presets.apis],
    layout: "BaseLayout",
    tryItOutEnabled: true,
    syntaxHighlight: false,
    defaultModelsExpandDepth: 0,
    validatorUrl: null,
  });
})();
