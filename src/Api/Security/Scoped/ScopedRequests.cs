namespace Washwear.Api.Security.Scoped;

/// <summary>
/// Gives each request the services of its caller's scope: handlers, pages and charts are the same for all, and what lies outside of the scope
/// does not exist for them.
/// </summary>
internal static class ScopedRequests
{
    /// <summary>Adds the step; after the caller is known and may pass.</summary>
    /// <param name="app">The pipeline.</param>
    public static void UseScopes(this IApplicationBuilder app) => app.Use(async (context, next) =>
    {
        Scope scope = Authentication.ScopeOf(context.User);
        if (scope.Kind == ScopeKind.Everything || context.User.Identity?.IsAuthenticated != true)
        {
            await next(context);
            return;
        }

        ScopedServices scopes = context.RequestServices.GetRequiredService<ScopedServices>();
        ScopedServices.Loan loan = await scopes.BorrowAsync(scope, context.RequestAborted);
        context.Response.RegisterForDispose(loan);
        context.RequestServices = new Provider(context.RequestServices, loan.Services, scopes);
        await next(context);
    });

    private sealed class Provider(IServiceProvider request, IServiceProvider scoped, ScopedServices scopes) : IKeyedServiceProvider, ISupportRequiredService
    {
        public object? GetService(Type serviceType) => serviceType == typeof(IServiceProvider) ? this
            : scopes.IsPerScope(serviceType) ? scoped.GetService(serviceType)
            : request.GetService(serviceType);

        public object GetRequiredService(Type serviceType) => serviceType == typeof(IServiceProvider) ? this
            : scopes.IsPerScope(serviceType) ? scoped.GetRequiredService(serviceType)
            : request.GetRequiredService(serviceType);

        public object? GetKeyedService(Type serviceType, object? serviceKey) => request.GetKeyedServices(serviceType, serviceKey).FirstOrDefault();

        public object GetRequiredKeyedService(Type serviceType, object? serviceKey) => request.GetRequiredKeyedService(serviceType, serviceKey);
    }
}
