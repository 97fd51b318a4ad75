using Xunit.Abstractions;
using Xunit.Sdk;

namespace Washwear.Api.Tests.Storage;

/// <summary>A test that each engine takes; on SQL Server it is skipped, with the reason, where no server is named.</summary>
[XunitTestCaseDiscoverer("Washwear.Api.Tests.Storage.StorageFactDiscoverer", "Washwear.Api.Tests")]
public sealed class StorageFactAttribute : FactAttribute;

/// <summary>Finds such tests.</summary>
/// <param name="messages">Where problems go.</param>
public sealed class StorageFactDiscoverer(IMessageSink messages) : FactDiscoverer(messages)
{
    protected override IXunitTestCase CreateTestCase(
        ITestFrameworkDiscoveryOptions discoveryOptions, ITestMethod testMethod, IAttributeInfo factAttribute) => new StorageCase(
            DiagnosticMessageSink, discoveryOptions.MethodDisplayOrDefault(), discoveryOptions.MethodDisplayOptionsOrDefault(), testMethod);
}

/// <summary>Such a test in one engine's class.</summary>
public sealed class StorageCase : XunitTestCase
{
    /// <summary>The environment variable that names the server.</summary>
    public const string Variable = "WASHWEAR_TEST_SQLSERVER";

    [Obsolete("For the framework alone, which sends tests from process to process.", error: true)]
    public StorageCase()
    {
    }

    public StorageCase(IMessageSink messages, TestMethodDisplay display, TestMethodDisplayOptions options, ITestMethod method)
        : base(messages, display, options, method)
    {
    }

    protected override string? GetSkipReason(IAttributeInfo factAttribute) =>
        TestMethod.TestClass.Class.Name.EndsWith(nameof(SqlServerStorageTests), StringComparison.Ordinal)
        && string.IsNullOrEmpty(Environment.GetEnvironmentVariable(Variable))
            ? $"{Variable} names no server to make a database at."
            : base.GetSkipReason(factAttribute);
}
