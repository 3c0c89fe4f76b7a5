SwaggerUIBundle({
  url: "/openapi.json",
  dom_id: "#docs",
  deepLinking: true,
  defaultModelsExpandDepth: 0,
  defaultModelExpandDepth: 3,
  tryItOutEnabled: true,
  validatorUrl: null,
});
